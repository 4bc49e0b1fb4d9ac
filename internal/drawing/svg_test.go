package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "rewrite the golden pictures")

func everything() *Scene {
	return &Scene{
		ID: "all", Title: "One of each <shape>", Desc: "A picture with every node.", Width: 100, Height: 60, MinX: -5,
		Class: "picture",
		Fades: []Fade{{ID: "all-fade", Y2: 10, Stops: []Stop{{At: 0, Colour: "#123456", Opacity: 1}, {At: 1.0 / 3, Colour: "#123456", Class: "end"}}}},
		Hatches: []Hatch{
			{ID: "all-hatch", Apart: 4, Turn: 45, Colour: "#333", StrokeWidth: .5, Ground: "#eee"},
		},
		Clips: []Clip{{ID: "all-clip", X: 1, Y: 2, Width: 30, Height: 40}},
		Nodes: []Node{
			Rect{X: 1, Y: 2, Width: 30.456, Height: 40, Radius: 2, Style: Style{Fill: Ref("all-hatch"), Stroke: "#000", StrokeWidth: .5}, Hint: `a "quoted" hint`},
			Circle{X: 10, Y: 10, Radius: 3.333, Style: Style{Fill: "red", Opacity: .5}},
			Line{X1: 0, Y1: 0, X2: 10, Y2: -0.001, Style: Style{Stroke: "blue", Dash: []float64{4, 2, .5, 2}, Round: true}},
			Shape{Path: NewPath(4).MoveTo(0, 0).LineTo(1, -1).QuadTo(2, 2, 3, 3).CubicTo(1, 2, 3, 4, 5, 6).Close().Dot(4, 4).Ring(5, 5, 2).Box(1, 1, 2, 2), Style: Style{Fill: Ref("all-fade"), EvenOdd: true}},
			Shape{Path: NewPath(4).Stamp(Figure{{'M', [3][2]float64{{0, -1}}}, {'Q', [3][2]float64{{1, 0}, {0, 1}}}, {'Z', [3][2]float64{}}}, 10, 10, 2, math.Pi/2)},
			Text{X: 3, Y: 4, Size: 5, Anchor: Middle, Turn: -90, Bold: true, Italic: true, Halo: "#fff", Says: "Peas & beans", Fit: 20, Style: Style{Fill: "#222", Class: "ink"}},
			Group{X: 1, Y: 2, Turn: 30, Clip: "all-clip", Link: "/bed/1", Hint: "Bed", Nodes: []Node{Circle{Radius: 1}}},
		},
	}
}

func TestGoldenPicture(t *testing.T) {
	got, err := everything().SVG()
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join("testdata", "golden", "everything.svg")
	if *update {
		if err := os.WriteFile(name, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), string(got)); d != "" {
		t.Errorf("the picture differs from the golden one (run with -update when the change is meant):\n%s", d)
	}
}

func TestPictureIsWellFormedAndNamed(t *testing.T) {
	got, err := everything().SVG()
	if err != nil {
		t.Fatal(err)
	}
	d := xml.NewDecoder(bytes.NewReader(got))
	ids, refs := map[string]bool{}, []string{}
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range e.Attr {
			switch {
			case a.Name.Local == "style":
				t.Errorf("<%s> has a style attribute, which the content policy forbids", e.Name.Local)
			case a.Name.Local == "id":
				if ids[a.Value] {
					t.Errorf("id %q twice", a.Value)
				}
				ids[a.Value] = true
			case strings.HasPrefix(a.Value, "url(#"):
				refs = append(refs, strings.TrimSuffix(strings.TrimPrefix(a.Value, "url(#"), ")"))
			case a.Name.Local == "aria-labelledby" || a.Name.Local == "aria-describedby":
				refs = append(refs, a.Value)
			}
		}
	}
	for _, r := range refs {
		if !ids[r] {
			t.Errorf("%q is referred to and does not exist", r)
		}
	}
	if !bytes.Contains(got, []byte(`role="img"`)) {
		t.Error("no role")
	}
}

func TestNumbersThatAreNoneAreRejected(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for name, n := range map[string]Node{
			"rect":   Rect{X: bad, Width: 1, Height: 1},
			"circle": Circle{Radius: bad},
			"path":   Shape{Path: NewPath(1).MoveTo(bad, 0)},
			"stamp":  Shape{Path: NewPath(1).Stamp(Figure{{'M', [3][2]float64{{1, 1}}}}, 0, 0, bad, 0)},
			"text":   Text{Size: bad, Says: "x"},
			"group":  Group{Nodes: []Node{Line{X1: bad}}},
		} {
			s := &Scene{ID: "s", Title: "t", Width: 1, Height: 1, Nodes: []Node{n}}
			if _, err := s.SVG(); !errors.Is(err, ErrNotANumber) {
				t.Errorf("%s with %v: error %v, want ErrNotANumber", name, bad, err)
			}
		}
		s := &Scene{ID: "s", Title: "t", Width: 1, Height: 1, Fades: []Fade{{ID: "f", Stops: []Stop{{At: bad}}}}}
		if _, err := s.SVG(); !errors.Is(err, ErrNotANumber) {
			t.Errorf("fade with %v: error %v", bad, err)
		}
	}
	if _, err := (&Scene{ID: "s", Title: "t"}).SVG(); err == nil {
		t.Error("a picture without size is accepted")
	}
	if _, err := (&Scene{ID: "s", Title: "t", Width: 1, Height: 1, Nodes: []Node{Rect{Width: -1, Height: 1}}}).SVG(); err == nil {
		t.Error("a rectangle of negative width is accepted")
	}
}

func TestNumberForm(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{{0, "0"}, {-0.001, "0"}, {1, "1"}, {1.5, "1.5"}, {1.005, "1"}, {-12.345, "-12.35"}, {0.05, "0.05"}, {99.999, "100"}, {-0.5, "-0.5"}} {
		got, ok := appendNumber(nil, c.v)
		if !ok || string(got) != c.want {
			t.Errorf("%v is written %q, want %q", c.v, got, c.want)
		}
	}
}

func TestSlug(t *testing.T) {
	for in, want := range map[string]string{"Long drill": "long-drill", "2027-07": "n2027-07", "  Beets & Co. ": "beets-co", "": "x", "äöü": "x"} {
		if got := Slug(in); got != want {
			t.Errorf("Slug(%q) = %q, want %q", in, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		got := Slug(rapid.String().Draw(t, "words"))
		if got == "" || got[0] < 'a' || got[0] > 'z' || strings.ContainsAny(got, " \"<>()#") {
			t.Fatalf("slug %q cannot be an id", got)
		}
	})
}

func BenchmarkTenThousandDots(b *testing.B) {
	for b.Loop() {
		p := NewPath(10_000)
		for i := range 10_000 {
			p.Dot(float64(i%100)*3.7, float64(i/100)*2.9)
		}
		s := &Scene{ID: "s", Title: "t", Width: 400, Height: 300, Nodes: []Node{Shape{Path: p, Style: Style{Stroke: "#000"}}}}
		if _, err := s.SVG(); err != nil {
			b.Fatal(err)
		}
	}
}
