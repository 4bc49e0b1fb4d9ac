package web

import (
	"embed"
	"html/template"
	"io/fs"
	"path"
	"strings"

	"kailyard/internal/drawing"
)

//go:embed templates
var templateFS embed.FS

// page is one template with the frame around it.
type page struct{ tmpl *template.Template }

// pageTypes are all pages and the struct each is made from; a test holds the templates to them.
var pageTypes = map[string]any{
	"problem":   problemPage{},
	"start":     startPage{},
	"plot":      plotPage{},
	"light":     lightPage{},
	"bedlight":  bedLightPage{},
	"beds":      bedsPage{},
	"bed":       bedPage{},
	"jobs":      jobsPage{},
	"orders":    ordersPage{},
	"others":    othersPage{},
	"weather":   weatherPage{},
	"crops":     cropsPage{},
	"crop":      cropPage{},
	"own":       ownPage{},
	"cropfile":  cropFilePage{},
	"ready":     readyPage{},
	"weakest":   weakestPage{},
	"sources":   sourcesPage{},
	"record":    recordPage{},
	"network":   networkPage{},
	"fetch":     fetchPage{},
	"kept":      keptPage{},
	"planting":  plantingPage{},
	"journal":   journalPage{},
	"garden":    gardenPage{},
	"form":      formPage{},
	"history":   historyPage{},
	"groups":    groupsPage{},
	"soiltests": soilTestsPage{},
	"soil":      soilPage{},
	"soilbed":   bedSoilShow{},
	"shopping":  shoppingPage{},
	"heaps":     heapsPage{},
	"heap":      heapPageShown{},
	"recipe":    recipePage{},
	"digging":   diggingPage{},
	"water":     waterPage{},
	"plan":      planPage{},
	"helps":     helpsPage{},
}

// mustPages parses every template; a fault in one is a programmer's error.
func mustPages(f *files) map[string]*page {
	common := template.New("layout.html").Funcs(template.FuncMap{"static": f.url, "keys": sourceKeys})
	common = template.Must(common.ParseFS(templateFS, "templates/layout.html", "templates/parts.html"))
	pages := map[string]*page{}
	names, err := fs.Glob(templateFS, "templates/*.html")
	if err != nil {
		panic(err)
	}
	for _, file := range names {
		name := strings.TrimSuffix(path.Base(file), ".html")
		if name == "layout" || name == "parts" {
			continue
		}
		t := template.Must(template.Must(common.Clone()).ParseFS(templateFS, file))
		pages[name] = &page{tmpl: t}
	}
	return pages
}

// sourceKeys parts the keys of several sources.
func sourceKeys(list string) []string {
	return strings.FieldsFunc(list, func(r rune) bool { return r == ';' || r == ' ' })
}

// svg is a picture for a page. The writer of drawing escapes every text, so it goes in as it is.
func svg(s *drawing.Scene) (template.HTML, error) {
	b, err := s.SVG()
	return template.HTML(b), err
}
