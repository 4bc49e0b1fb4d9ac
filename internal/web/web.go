// Package web is pages: handlers, page structs, templates, static files; sees book only through small interfaces.
package web

import (
	"context"
	"net/http"
	"sync"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// Gardens is what the pages need to know and change about the person's ground.
type Gardens interface {
	Garden(ctx context.Context) (garden.Garden, error)
	SaveSite(ctx context.Context, site garden.Site) error
	AddBed(ctx context.Context, bed garden.Bed) (int64, error)
	SaveBed(ctx context.Context, bed garden.Bed) error
	RemoveBed(ctx context.Context, id int64) error
	AddWant(ctx context.Context, want garden.Want) (int64, error)
	SaveWant(ctx context.Context, want garden.Want) error
	RemoveWant(ctx context.Context, id int64) error
	AddPast(ctx context.Context, past garden.Past) (int64, error)
	RemovePast(ctx context.Context, id int64) error
	AddVariety(ctx context.Context, v crop.Variety) (id string, err error)
	SaveVariety(ctx context.Context, v crop.Variety) error
	SaveCropFile(ctx context.Context, f crop.File) error
	RemoveCrop(ctx context.Context, id string) (retired bool, err error)
}

// Journals is what the pages need of the journal.
type Journals interface {
	Append(ctx context.Context, entry garden.Entry) (int64, error)
	Journal(ctx context.Context, span civil.Span) ([]garden.Entry, error)
}

// Pins is what the pages need to let a person hold a planting where it is.
type Pins interface {
	SetPinned(ctx context.Context, key string, pinned bool) error
}

// Planning is the planner's settings.
type Planning interface {
	Settings(ctx context.Context) (plan.Settings, error)
	SaveSettings(ctx context.Context, v plan.Settings) error
}

// Grounds is what the pages need to keep soil tests, sizes on sale and compost heaps.
type Grounds interface {
	garden.TestKeeper
	garden.PackageKeeper
	garden.HeapKeeper
}

// Store is the garden book as the pages see it.
type Store interface {
	Gardens
	garden.VetoKeeper
	Grounds
	Journals
	Pins
	Planning
	garden.ShadeKeeper
}

// Config is what the pages are served from.
type Config struct {
	Store Store
	// Season is the season as it stands, computed once per change. Where it has no plan yet the error
	// has a method NoPlan that says so.
	Season func(ctx context.Context) (*season.Result, error)
	Replan func(ctx context.Context) error // makes and keeps a new plan
	// Record is the weather record in use, nil where there is none: pages about the ground ask for it where there is no plan. Nil: there
	// is none without a plan.
	Record func(ctx context.Context) (*weather.Record, error)
	// Under grows a planting of the season shown as the person wants it, and keeps the plan that comes of it. Nil: that
	// is not chosen here.
	Under func(ctx context.Context, key string, how season.Growing) error
	// Others are the season's plans as they were compared last, nil where they were not or the garden has changed since; Compare makes
	// and compares them, which takes a while; Use keeps one by its way's ID, and says no where garden or day have changed since. Nil: not here.
	Others  func(ctx context.Context) (*season.Alternatives, error)
	Compare func(ctx context.Context) error
	Use     func(ctx context.Context, way string) (kept bool, err error)
	Today   func() civil.Date

	// Seasons are those the pages can show and the one they do; Choose makes them show the one that
	// starts in a year. Nil: there is nothing to choose.
	Seasons func(ctx context.Context) (list []civil.Season, shown civil.Season, err error)
	Choose  func(ctx context.Context, year int) error

	// TakeRecord keeps a weather record that can carry a plan, or says why it cannot; Generate makes
	// years of a built-in climate. Nil: weather is not given here.
	TakeRecord func(ctx context.Context, r *weather.Record) error
	Generate   func(c weather.Climate) *weather.Record

	// Fetching is weather over the network; Fit makes of a record from a file or a service what would be taken, laid
	// over the one in use where that is wanted. Kept is the weather that is kept. Nil: not here.
	Fetching Fetching
	Fit      func(ctx context.Context, r *weather.Record, over bool) (Fitted, error)
	Kept     KeptWeather

	Crops *crop.Catalogue
	Hosts []string // names, with or without port, that may be asked for besides loopback
}

// site is the handlers and what they share.
type site struct {
	Config
	pages map[string]*page
	files *files

	mu    sync.Mutex
	seen  *season.Result // what drawn belongs to
	owned *owned         // the catalogue with the garden's own crops
	kept  map[string]any // figures and pictures that cost time, for the season seen last
}

// New is the whole site.
func New(c Config) http.Handler {
	files := mustFiles()
	s := &site{Config: c, files: files, pages: mustPages(files)}
	mux := http.NewServeMux()
	for _, list := range []map[string]action{s.routes(), s.weatherRoutes(), s.soilRoutes(), s.lightRoutes(), s.waterRoutes(), s.planRoutes()} {
		for pattern, do := range list {
			mux.Handle(pattern, s.handle(do))
		}
	}
	mux.Handle("GET /static/", files)
	return s.guard(mux)
}

// routes are the addresses of the site, with what they do.
func (s *site) routes() map[string]action {
	return map[string]action{
		"GET /{$}":                   s.start,
		"GET /plot":                  s.plot,
		"GET /beds":                  s.beds,
		"GET /bed/{id}":              s.bed,
		"GET /jobs":                  s.jobs,
		"POST /jobs/done":            s.jobDone,
		"GET /orders":                s.orders,
		"GET /weather":               s.weather,
		"GET /weather/record":        s.recordForm,
		"POST /weather/record":       s.recordSave,
		"GET /crops":                 s.crops,
		"GET /sources":               s.sources,
		"GET /ready":                 s.ready,
		"GET /crops/weakest":         s.weakest,
		"GET /crops/own":             s.ownCrops,
		"GET /crops/new":             s.cropFileForm,
		"POST /crops/new":            s.cropFileSave,
		"GET /crop/{id}":             s.crop,
		"GET /crop/{id}/vary":        s.varietyForm,
		"POST /crop/{id}/vary":       s.varietySave,
		"GET /crop/{id}/change":      s.changeCrop,
		"POST /crop/{id}/change":     s.changeCropSave,
		"POST /crop/{id}/remove":     s.cropRemove,
		"GET /planting/{key}":        s.planting,
		"POST /planting/{key}/pin":   s.pin,
		"POST /planting/{key}/under": s.growUnder,
		"GET /journal":               s.journal,
		"POST /journal":              s.journalAdd,
		"GET /garden":                s.garden,
		"GET /site":                  s.siteForm,
		"POST /site":                 s.siteSave,
		"GET /bed/new":               s.bedForm,
		"POST /bed/new":              s.bedSave,
		"GET /bed/{id}/edit":         s.bedForm,
		"POST /bed/{id}/edit":        s.bedSave,
		"POST /bed/{id}/remove":      s.bedRemove,
		"GET /want/new":              s.wantForm,
		"POST /want/new":             s.wantSave,
		"GET /want/{id}":             s.wantForm,
		"POST /want/{id}":            s.wantSave,
		"POST /want/{id}/remove":     s.wantRemove,
		"GET /veto/new":              s.vetoForm,
		"POST /veto/new":             s.vetoSave,
		"POST /veto/{id}/remove":     s.vetoRemove,
		"GET /history":               s.history,
		"POST /history":              s.historyAdd,
		"POST /history/{id}/remove":  s.historyRemove,
		"GET /settings":              s.settings,
		"POST /settings":             s.settingsSave,
		"POST /replan":               s.replan,
		"GET /plan/others":           s.others,
		"POST /plan/others":          s.othersCompared,
		"POST /plan/others/use":      s.otherUsed,
		"POST /season":               s.seasonChosen,
		"/":                          s.nowhere,
	}
}

// remember gives the value kept under a key for a season, making it when it is not there: figures
// that cost time are worked out once for each change of the garden.
func remember[T any](s *site, r *season.Result, key string, work func() T) T {
	s.mu.Lock()
	if s.seen != r || s.kept == nil {
		s.seen, s.kept = r, map[string]any{}
	}
	if v, ok := s.kept[key].(T); ok {
		s.mu.Unlock()
		return v
	}
	s.mu.Unlock()
	v := work()
	s.mu.Lock()
	if s.seen == r {
		s.kept[key] = v
	}
	s.mu.Unlock()
	return v
}
