package garden

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/crop"
)

// Part is where in a garden a problem lies.
type Part struct {
	Table string // "site", "crop_file", "variety", "bed", "shade", "history", "want", "veto", "standing", "soil_test", "treatment", "package", "heap": the tables of a garden description
	Index int    // which of them, from 0
	Name  string // what the person calls it: `bed "Long drill"`
}

// PartProblem is a problem of one part of a garden.
type PartProblem struct {
	Part
	Problem
}

// Error is the problem with the part it lies in.
func (p PartProblem) Error() string { return p.Name + ": " + p.Problem.Error() }

// Examine tells what is wrong with every part of the garden and between its parts. Without a
// catalogue crops are not looked up.
func (g Garden) Examine(crops *crop.Catalogue) []PartProblem {
	var all []PartProblem
	put := func(table string, index int, name string, ps Problems) {
		for _, p := range ps {
			all = append(all, PartProblem{Part{table, index, name}, p})
		}
	}
	put("site", 0, "site", g.Site.Validate())
	all = append(all, g.ownProblems(crops)...)
	if crops != nil {
		crops, _ = g.Catalogue(crops)
	}
	for i, b := range g.Beds {
		put("bed", i, partName("bed", b.Name, i), append(append(g.lit(b.Validate()), g.among(i)...), b.SeenAt(g.Site)...))
	}
	for i, s := range g.Shades {
		put("shade", i, partName("shade", s.Name, i), append(s.Validate(), g.shadeAmong(i)...))
	}
	for i, p := range g.History {
		ps := p.Validate(crops)
		b, ok := g.Bed(p.BedID)
		if !ok {
			ps.add("bed", "name one of the garden's beds", "it is of no bed of this garden")
		}
		put("history", i, fmt.Sprintf("history %d of bed %q", p.Year, b.Name), ps)
	}
	for i, w := range g.Wants {
		put("want", i, partName("want", w.Crop, i), w.Validate(crops))
	}
	for i, v := range g.Vetoes {
		ps := v.Validate(crops)
		if _, ok := g.Bed(v.BedID); !ok && v.BedID != 0 {
			ps.add("bed", "name one of the garden's beds", "it is of no bed of this garden")
		}
		put("veto", i, partName("veto", v.Crop+v.Family, i), ps)
	}
	keys := map[string]bool{}
	for i, p := range g.Standing {
		ps := g.standingProblems(p, crops)
		if keys[p.Key] {
			ps.add("key", "give every planting a key of its own", "the key %q is used twice", p.Key)
		}
		keys[p.Key] = true
		put("standing", i, partName("standing", p.CropID, i), ps)
	}
	for i, t := range g.Tests {
		ps := t.Validate()
		for _, id := range t.Beds {
			if _, ok := g.Bed(id); !ok {
				ps.add("beds", "name beds of the garden, or leave beds out for the whole of it", "it is of a bed that is not of this garden")
			}
		}
		put("soil_test", i, testName(t, i), ps)
	}
	for i, t := range g.Treatments {
		ps := t.Validate()
		if b, ok := g.Bed(t.BedID); ok {
			ps = append(ps, t.on(b)...)
		} else if t.BedID != 0 {
			ps.add("bed", "name one of the garden's beds", "it is of no bed of this garden")
		}
		put("treatment", i, partName("treatment", t.Material, i), ps)
	}
	for i, p := range g.Packages {
		put("package", i, partName("package", cmp.Or(p.Name, p.Material), i), p.Validate())
	}
	for i, h := range g.Heaps {
		put("heap", i, partName("heap", h.Name, i), h.Validate())
	}
	return all
}

// Validate is Examine with each problem's part put before its sentence.
func (g Garden) Validate(crops *crop.Catalogue) Problems {
	var ps Problems
	for _, p := range g.Examine(crops) {
		p.Problem.Says = p.Name + ": " + p.Problem.Says
		ps = append(ps, p.Problem)
	}
	return ps
}

func testName(t SoilTest, index int) string {
	return partName("soil test", cmp.Or(t.Lab, t.Date.String()), index)
}

func partName(table, name string, index int) string {
	if strings.TrimSpace(name) == "" {
		return fmt.Sprintf("%s %d", table, index+1)
	}
	return fmt.Sprintf("%s %q", table, name)
}

// among tells how a bed stands among those before it and on the plot.
func (g Garden) among(i int) Problems {
	var ps Problems
	b := g.Beds[i]
	for _, o := range g.Beds[:i] {
		if strings.TrimSpace(b.Name) != "" && strings.EqualFold(strings.TrimSpace(o.Name), strings.TrimSpace(b.Name)) {
			ps.add("name", "give each bed a name of its own", "another bed is called %q too", o.Name)
		}
		if b.X == 0 && b.Y == 0 && o.X == 0 && o.Y == 0 {
			continue // not placed yet
		}
		if b.Length > 0 && b.Width > 0 && o.Length > 0 && o.Width > 0 && b.Overlaps(o) {
			ps.doubt("x", "check x, y, bearing and size of both", "it lies over the bed %q", o.Name)
		}
	}
	if g.Site.Width > 0 && g.Site.Depth > 0 {
		for _, c := range b.Corners() {
			const slack = 0.01
			if !within(c.East, -slack, g.Site.Width+slack) || !within(c.North, -slack, g.Site.Depth+slack) {
				ps.doubt("x", "check x, y and bearing, and the plot's width and depth", "it reaches beyond the plot")
				break
			}
		}
	}
	return ps
}

// standingProblems tells what is wrong with a planting in the ground.
func (g Garden) standingProblems(p Planting, crops *crop.Catalogue) Problems {
	var ps Problems
	b, ok := g.Bed(p.BedID)
	switch {
	case !ok:
		ps.add("bed", "name one of the garden's beds", "it stands in no bed of this garden")
	case !b.Holds(p.Place):
		ps.add("along", fmt.Sprintf("measure from the bed's south-west corner: along up to %v m, across up to %v m", float64(b.Length), float64(b.Width)),
			"its place is not a rectangle inside the bed")
	}
	if strings.TrimSpace(p.Key) == "" {
		ps.add("key", "give every planting a key of its own", "it has no key")
	}
	cropProblem(&ps, "crop", p.CropID, crops)
	if crops != nil {
		if c, known := crops.Find(p.CropID); known && (p.Method < 0 || p.Method >= len(c.Methods)) {
			ps.add("method", fmt.Sprintf("write from 1 to %d, or leave it out", len(c.Methods)), "%s has no method %d", c.Name(), p.Method+1)
		}
	}
	if unknown := unknownCover(p.Protection); unknown != nil && p.Protection != "" {
		ps.add("under", unknown.Remedy, "%s", unknown.Says)
	}
	if !slices.Contains([]Role{Alone, Slow, Fast, Marker}, p.Role) {
		ps.add("role", `leave it out, or write "alone", "slow", "fast" or "marker"`, "role is %q", p.Role)
	}
	if !slices.Contains([]Status{InGround, Planned, Over, Lost}, p.Status) {
		ps.add("status", `leave it out, or write "in the ground"`, "status is %q", p.Status)
	}
	if p.Clear <= p.Start {
		ps.add("clear", "write the day from which the ground is free again", "the ground would be clear on %s, before it was planted on %s", p.Clear, p.Start)
	}
	if p.Rows < 0 {
		ps.add("rows", "write how many rows there are, or leave it out", "rows are %d", p.Rows)
	}
	if p.Plants < 0 {
		ps.add("plants", "write how many plants there are, or leave it out", "plants are %d", p.Plants)
	}
	if !(p.Expect >= 0) {
		ps.add("expect_kg", "write what it is expected to give, or leave it out", "the harvest expected is %v kg", float64(p.Expect))
	}
	return ps
}

// lit leaves out the doubt about hours of sun that were not told, where they are reckoned.
func (g Garden) lit(ps Problems) Problems {
	if len(g.Shades) == 0 && g.Site.Lie.Level() {
		return ps
	}
	return slices.DeleteFunc(ps, func(p Problem) bool { return p.Doubt && p.Field == "sun_hours" })
}
