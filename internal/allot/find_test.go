package allot_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"kailyard/internal/allot"
	"kailyard/internal/allot/audit"
)

// judged lets the judge read the same text and holds the plan to it.
func judged(t testing.TB, text []byte, p *allot.Problem, f allot.Found) float64 {
	t.Helper()
	c, err := audit.Read(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	value, faults := c.Judge(lines(p, f))
	for _, fault := range faults {
		t.Error(fault)
	}
	if math.Abs(value-f.Value) > 1e-6*(1+math.Abs(value)) {
		t.Errorf("the search says %g, the judge %g", f.Value, value)
	}
	if value > f.Bound {
		t.Errorf("value %g above the bound %g", value, f.Bound)
	}
	return value
}

func lines(p *allot.Problem, f allot.Found) []audit.Planting {
	side := map[allot.Lane]string{allot.FirstHalf: "first", allot.SecondHalf: "second", allot.WholeWidth: "both"}
	var plan []audit.Planting
	for _, x := range f.Placements {
		plan = append(plan, audit.Planting{Bed: p.Beds[x.Bed].ID, Option: p.Options[x.Option].ID, Area: x.Area,
			Strip: audit.Strip{Side: side[x.Strip.Lane], From: x.Strip.From, To: x.Strip.To}})
	}
	return plan
}

func read(t testing.TB, text []byte) *allot.Problem {
	t.Helper()
	p, err := allot.Read(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPlansKeepTheRules(t *testing.T) {
	for seed := range uint64(6) {
		text := allot.Invent(seed, 1+int(seed)*2, 4+int(seed)*5)
		p := read(t, text)
		for _, steps := range []int{0, 300, 30000} {
			judged(t, text, p, allot.Find(p, seed, allot.Effort{Steps: steps}))
		}
	}
}

func TestKeptProblems(t *testing.T) {
	for _, name := range []string{"four", "twelve", "forty"} {
		text, err := os.ReadFile(filepath.Join("testdata", name+".json"))
		if err != nil {
			t.Fatal(err)
		}
		p := read(t, text)
		f := allot.Find(p, 1, allot.Effort{Steps: 60000})
		value := judged(t, text, p, f)
		t.Logf("%s: %.2f of %.2f (%.1f %%)", name, value, f.Bound, 100*value/f.Bound)
		if value < 0.8*f.Bound {
			t.Errorf("%s: only %g of %g", name, value, f.Bound)
		}
	}
}

func TestSameSeedAndStepsSamePlan(t *testing.T) {
	p := read(t, allot.Invent(7, 5, 12))
	one, two := allot.Find(p, 3, allot.Effort{Steps: 5000}), allot.Find(p, 3, allot.Effort{Steps: 5000})
	if !reflect.DeepEqual(one, two) {
		t.Errorf("%v\n%v", one, two)
	}
}

func TestStopsWhenTimeIsGone(t *testing.T) {
	text := allot.Invent(5, 4, 10)
	p := read(t, text)
	for _, asks := range []float64{1, 5, 50, 500} { // so many looks at the clock
		n := 0.0
		f := allot.Find(p, 1, allot.Effort{Spent: func() float64 { n++; return n / asks }})
		judged(t, text, p, f)
		if n > asks+5 {
			t.Errorf("%g looks at a clock that ran out after %g", n, asks)
		}
	}
}

// Bare or unfit ground: no plan, no panic, a bound of nothing or more.
func TestNothingToPlant(t *testing.T) {
	for _, text := range []string{
		`{"weeks":52}`,
		`{"weeks":1,"families":["a"],"crops":[],"options":[],"beds":[{"id":0,"width":1,"length":1,"area":1,"maxPlantings":8}]}`,
		`{"weeks":9,"families":["a"],"crops":[{"id":0,"value":1,"demand":{"kind":"total","qty":5,"segs":[[1,1]]}}],
		  "options":[{"id":0,"s":0,"e":3,"minArea":9,"n":1,"fams":["a"],"parts":[{"crop":0,"y":1,"harv":[[3,1]]}]}],
		  "beds":[{"id":0,"width":1,"length":0,"area":0,"maxPlantings":8},{"id":1,"width":1,"length":2,"area":2,"maxPlantings":8}]}`,
	} {
		p := read(t, []byte(text))
		f := allot.Find(p, 1, allot.Effort{Steps: 200})
		if len(f.Placements) != 0 || f.Value != 0 || f.Bound < 0 || math.IsNaN(f.Bound) {
			t.Errorf("%s: %+v", text, f)
		}
	}
}

// A bed of 20 m has more cells than the packer's mask: it is dug in longer steps.
func TestVeryLongBed(t *testing.T) {
	text := bytes.Replace(allot.Invent(4, 1, 8), []byte(`"length"`), []byte(`"length": 20, "was"`), 1)
	text = bytes.Replace(text, []byte(`"area"`), []byte(`"area": 16, "had"`), 1)
	p := read(t, text)
	f := allot.Find(p, 1, allot.Effort{Steps: 20000})
	if f.Value <= 0 {
		t.Errorf("nothing planted in 20 m")
	}
	judged(t, text, p, f)
}

// The benchmark problems of the reference folder with the optimum, or the bounds, that general solvers proved for them:
// S1 258.44 optimal (HiGHS, 294 s), M1 ≤ 681.23, L1 ≤ 4175.23, XL1 ≤ 27 854.67 (linear relaxation).
func TestReferenceProblems(t *testing.T) {
	for _, r := range []struct {
		name          string
		proven, least float64
		steps         int
	}{
		{"S1", 258.44, 250, 100000},
		{"M1", 681.23, 650, 100000},
		{"L1", 4175.23, 3900, 200000},
	} {
		text, err := os.ReadFile(filepath.Join("..", "..", "..", "shared", "reference", "planning", r.name+".json"))
		if err != nil {
			t.Skip("the benchmark problems do not stand beside this tree")
		}
		p := read(t, text)
		f := allot.Find(p, 1, allot.Effort{Steps: r.steps})
		value := judged(t, text, p, f)
		t.Logf("%s: value %.2f, bound %.2f, proven %.2f", r.name, value, f.Bound, r.proven)
		if value > r.proven+0.005 || value < r.least {
			t.Errorf("%s: value %g, must lie between %g and the proven %g", r.name, value, r.least, r.proven)
		}
		if r.name == "S1" && f.Bound < r.proven-0.02 {
			t.Errorf("bound %g below the proven optimum", f.Bound)
		}
	}
}

func BenchmarkFind(b *testing.B) {
	p := read(b, allot.Invent(2, 12, 24))
	for b.Loop() {
		allot.Find(p, 1, allot.Effort{Steps: 20000})
	}
}

func BenchmarkBound(b *testing.B) {
	for _, beds := range []int{4, 12, 40, 200} {
		p := read(b, allot.Invent(2, beds, 40))
		b.Run(map[int]string{4: "4", 12: "12", 40: "40", 200: "200"}[beds]+" beds", func(b *testing.B) {
			for b.Loop() {
				allot.Bound(p, 100, nil)
			}
		})
	}
}
