package web

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"net/http"
	"path"
	"slices"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// cropFilePage is the text of a whole crop of one's own, with what is wrong in it by line.
type cropFilePage struct {
	frame
	Heading, Intro string
	Action, Submit string
	ID             *field // nil when it cannot be changed
	Text           string
	Whole          []string
	Faults         []lineFault
	Like           []choice
	Remove         *removal
	Back           navLink
}

// lineFault is one thing wrong, with the line it stands on.
type lineFault struct {
	Line int // 0: of no line
	Text string
	Says string
}

// cropFileAsked is the file the address names, or a fresh one, perhaps with the text of a crop to begin from.
func (s *site) cropFileAsked(r *http.Request) (garden.Garden, crop.File, error) {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return g, crop.File{}, err
	}
	id := r.PathValue("id")
	i := slices.IndexFunc(g.Own.Files, func(f crop.File) bool { return f.ID == id })
	switch {
	case id != "" && i < 0:
		return g, crop.File{}, missing("crop of your own of that name")
	case id != "":
		return g, g.Own.Files[i], nil
	}
	like := r.URL.Query().Get("like")
	text, ok := crop.FileText(like)
	if like != "" && !ok {
		return g, crop.File{}, missing("crop of that name in the catalogue to begin from")
	}
	return g, crop.File{Text: text}, nil
}

func (s *site) cropFilePage(r *http.Request, g garden.Garden, f crop.File) cropFilePage {
	p := cropFilePage{
		frame: s.gardenFrame("A crop of your own", r, g), Heading: "A crop of your own", Action: "/crops/new", Submit: "Take it in",
		Intro: "A whole crop in the form of the catalogue's own files: every figure with its unit and how far it can be trusted; q = \"own\" marks your own. Begin from a crop that is like it, change what differs, or choose a file.",
		Text:  f.Text, Back: navLink{Href: "/crops/own", Label: "Crops of your own"},
	}
	if r.PathValue("id") != "" {
		p.Title, p.Heading, p.Intro = "Change "+f.ID, "Change "+f.ID, "The text is checked as the catalogue's own files are."
		p.Action, p.Submit = "/crop/"+f.ID+"/change", "Save the crop"
		p.Remove = &removal{"/crop/" + f.ID + "/remove", "Take this crop out. Where history or plans name it, the book keeps it.", "Remove the crop"}
		if f.Retired {
			p.Intro, p.Remove = "It is no longer grown; saving it offers it again. "+p.Intro, nil
		}
		return p
	}
	p.ID = &field{Name: "id", Label: "Its ID", Value: f.ID, Required: true, Hint: "Small letters, digits and hyphens: winter-carrot. The ID of a crop of the catalogue puts yours in its place."}
	like := r.URL.Query().Get("like")
	p.Like = []choice{{Label: "nothing"}}
	for _, c := range s.Crops.All() {
		if _, ok := crop.FileText(c.ID); ok {
			p.Like = append(p.Like, choice{c.ID, c.Name(), c.ID == like})
		}
	}
	return p
}

func (s *site) cropFileForm(w http.ResponseWriter, r *http.Request) error {
	g, f, err := s.cropFileAsked(r)
	if err != nil {
		return err
	}
	p := s.cropFilePage(r, g, f)
	if f.ID != "" {
		_, err := f.Load()
		p.tell(f, err)
	}
	return s.render(w, http.StatusOK, "cropfile", p)
}

func (s *site) cropFileSave(w http.ResponseWriter, r *http.Request) error {
	g, f, err := s.cropFileAsked(r)
	if err != nil {
		return err
	}
	text, name, err := sentText(r)
	if err != nil {
		return err
	}
	f.Text, f.Retired = text, false
	if r.PathValue("id") == "" {
		if f.ID = strings.TrimSpace(r.PostFormValue("id")); f.ID == "" {
			f.ID = strings.TrimSuffix(path.Base(strings.ReplaceAll(name, `\`, "/")), ".toml")
		}
		if name == "" && f.ID == "." {
			f.ID = ""
		}
	}
	p := s.cropFilePage(r, g, f)
	if f.ID == "" || f.ID == "." {
		p.ID.Value, p.ID.Error = "", "This is needed."
	} else {
		_, err := f.Load()
		if err == nil {
			err = s.Store.SaveCropFile(r.Context(), f)
		}
		if err == nil {
			return seeOther(w, r, "/crop/"+f.ID+"?done=taken")
		}
		if !p.tell(f, err) {
			return err
		}
	}
	return s.render(w, http.StatusUnprocessableEntity, "cropfile", p)
}

// sentText is the text of the file that was chosen, with its name, or else the text that was typed.
func sentText(r *http.Request) (text, name string, err error) {
	text = r.PostFormValue("text") // reads the whole form
	file, header, err := r.FormFile("file")
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return "", "", err
	case err == nil && header.Filename != "":
		defer file.Close()
		b, err := io.ReadAll(file)
		if err != nil {
			return "", "", err
		}
		text, name = string(b), header.Filename
	}
	return strings.ReplaceAll(text, "\r\n", "\n"), name, nil
}

// tell puts what is wrong with a crop's file beside its text, line by line; false for other errors.
func (p *cropFilePage) tell(f crop.File, err error) bool {
	if err == nil {
		return true
	}
	if ps, ok := err.(garden.Problems); ok {
		for _, one := range ps {
			p.Whole = append(p.Whole, sentence(one.Says, one.Remedy))
		}
		return true
	}
	lines := strings.Split(f.Text, "\n")
	found := false
	for _, fault := range crop.Faults(err) {
		if fault.File == "" {
			continue
		}
		found = true
		says := stopped(fault.Text)
		if fault.Field != "" {
			says = fault.Field + ": " + says
		}
		switch {
		case fault.Line > 0 && fault.Line <= len(lines):
			p.Faults = append(p.Faults, lineFault{fault.Line, strings.TrimSpace(lines[fault.Line-1]), says})
		case fault.Field == "" && p.ID != nil:
			p.ID.Error = sentence(says, "")
		default:
			p.Faults = append(p.Faults, lineFault{Says: says})
		}
	}
	slices.SortStableFunc(p.Faults, func(a, b lineFault) int { return cmp.Compare(a.sortsAt(), b.sortsAt()) })
	return found
}

// sortsAt puts what is missing after what stands on a line.
func (l lineFault) sortsAt() int {
	if l.Line == 0 {
		return math.MaxInt
	}
	return l.Line
}

// stopped ends a sentence with a full stop where it has no end.
func stopped(says string) string {
	if says == "" || strings.ContainsAny(says[len(says)-1:], ".?!") {
		return says
	}
	return says + "."
}

// Found says how many faults there are.
func (p cropFilePage) Found() string {
	n := len(p.Faults)
	if p.ID != nil && p.ID.Error != "" {
		n++
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("This cannot be taken as it stands: %s to mend.", plural(n, "thing", "things"))
}
