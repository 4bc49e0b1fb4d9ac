package soil

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"slices"
	"sync"

	toml "github.com/pelletier/go-toml/v2"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

//go:embed sidedressing.toml
var sideFile []byte

// SideDressing is how a sort of crop is fed after planting.
type SideDressing struct {
	Name   string
	Share  float64 // of the season's nitrogen, 0–1
	Stop   string  // why it is not fed later; empty: nothing to say
	Source string
	sand   bool // only on sandy ground
	when   []moment
	every  int
	until  float64
	kinds  []string
	groups []crop.Group
}

// moment is one time of a row: exactly one of the four is set.
type moment struct {
	Stage string   `toml:"stage"`
	After *int     `toml:"after"`
	Grown *float64 `toml:"grown"`
	First *int     `toml:"first"`
	Last  *int     `toml:"last"`
}

// Feeding is one time at which a planting is fed again.
type Feeding struct {
	Stage string
	Date  civil.Date // 0 where the planting's dates do not tell
}

// SideDressed is the row of a crop on ground of a texture, and whether there is one: without, all is given at planting.
//
// Source: KSU-SIDE; MCALL; CSU-711; UDEL-COLE; else from memory, as each row says
func SideDressed(c *crop.Crop, texture garden.Texture) (SideDressing, bool) {
	rows, _ := sideRows()
	i := slices.IndexFunc(rows, func(r SideDressing) bool { return slices.Contains(r.kinds, c.Kind) })
	if i < 0 {
		i = slices.IndexFunc(rows, func(r SideDressing) bool { return slices.Contains(r.groups, c.Group) })
	}
	if i < 0 || rows[i].sand && texture != garden.Sand && texture != garden.SandyLoam {
		return SideDressing{}, false
	}
	return rows[i], true
}

// For is when a planting is fed again, in order of day.
func (s SideDressing) For(p garden.Planting) []Feeding {
	from := p.Start
	if p.Way != crop.SetOut && p.Emerge.P50 > from {
		from = p.Emerge.P50
	}
	ready, over := p.First.P50, p.Last.P50
	if ready <= from {
		ready = 0
	}
	if over < ready {
		over = 0
	}
	limit := over
	if s.until > 0 && ready > 0 {
		limit = from.Add(int(s.until * float64(ready.Since(from))))
	}
	var all []Feeding
	for _, m := range s.when {
		date := m.on(p.Start, from, ready, over)
		if date == 0 || limit == 0 || date <= limit || m.Last != nil {
			all = append(all, Feeding{m.Stage, date})
		}
	}
	if s.every > 0 && len(all) > 0 && all[0].Date > 0 && limit > 0 {
		for d := all[len(all)-1].Date.Add(s.every); d <= limit; d = d.Add(s.every) {
			all = append(all, Feeding{fmt.Sprintf("%d days later", s.every), d})
		}
	}
	return all
}

func (m moment) on(start, from, ready, over civil.Date) civil.Date {
	switch {
	case m.After != nil:
		return start.Add(*m.After)
	case m.Grown != nil && ready > 0:
		return from.Add(int(*m.Grown * float64(ready.Since(from))))
	case m.First != nil && ready > 0:
		return max(start, ready.Add(*m.First))
	case m.Last != nil && over > 0:
		return over.Add(*m.Last)
	}
	return 0
}

var sideRows = sync.OnceValues(func() ([]SideDressing, error) { return readSideDressings(sideFile) })

func readSideDressings(text []byte) ([]SideDressing, error) {
	var sheet struct {
		Row []struct {
			Name   string       `toml:"name"`
			Kinds  []string     `toml:"kinds"`
			Groups []crop.Group `toml:"groups"`
			Share  float64      `toml:"share"`
			When   []moment     `toml:"when"`
			Every  int          `toml:"every"`
			Until  float64      `toml:"until"`
			Stop   string       `toml:"stop"`
			Sand   bool         `toml:"sand"`
			Src    string       `toml:"src"`
			Q      string       `toml:"q"`
		} `toml:"row"`
	}
	if err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(&sheet); err != nil {
		return nil, fmt.Errorf("sidedressing.toml: %w", err)
	}
	var rows []SideDressing
	var faults []error
	for _, e := range sheet.Row {
		wrong := func(says string) {
			faults = append(faults, fmt.Errorf("sidedressing.toml: %s: %s", e.Name, says))
		}
		if e.Share < 0 || e.Share > 1 || e.Until < 0 || e.Until > 1 || e.Every < 0 {
			wrong("share and until lie from 0 to 1, every is days")
		}
		if (e.Share > 0) != (len(e.When) > 0) {
			wrong("what has a share has its times, and what has times a share")
		}
		for _, m := range e.When {
			told := 0
			for _, set := range []bool{m.After != nil, m.Grown != nil, m.First != nil, m.Last != nil} {
				if set {
					told++
				}
			}
			if told != 1 || m.Stage == "" {
				wrong("each time has a stage and one of after, grown, first and last")
			}
		}
		if err := (&cell{Src: e.Src, Q: e.Q}).check(); err != nil {
			wrong(err.Error())
		}
		rows = append(rows, SideDressing{Name: e.Name, Share: e.Share, Stop: e.Stop, Source: e.Src, sand: e.Sand, when: e.When, every: e.Every, until: e.Until, kinds: e.Kinds, groups: e.Groups})
	}
	return rows, errors.Join(faults...)
}
