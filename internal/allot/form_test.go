package allot

import (
	"bytes"
	"strings"
	"testing"
)

// A mistake in the text is told in a sentence with the place it stands in.
func TestMistakesAreTold(t *testing.T) {
	const good = `{"weeks":20,"families":["a"],"crops":[{"id":0,"value":3,"demand":{"kind":"total","qty":2,"segs":[[1,1],[1,0.5]]}}],
	"options":[{"id":7,"s":2,"e":6,"minArea":1,"sun":1,"fams":["a"],"cost":1,"n":1,"parts":[{"crop":0,"y":1,"harv":[[6,1]]}]}],
	"beds":[{"id":4,"width":1,"length":2,"area":2,"sun":1,"history":[["a"]],"maxPlantings":8}]}`
	if _, err := Read(strings.NewReader(good)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ from, to, want string }{
		{`{"weeks":20`, `{"weeks":0`, "weeks: 0, must be 1 to 64"},
		{`{"weeks":20`, `{"weeks":"x"`, "open JSON form"},
		{`"e":6`, `"e":66`, "option 7: weeks 2 to 66"},
		{`"kind":"total"`, `"kind":"daily"`, `crop 0: demand kind "daily"`},
		{`[1,0.5]`, `[1,1.5]`, "must fall in value"},
		{`"qty":2`, `"qty":-2`, "demand qty is -2"},
		{`"fams":["a"]`, `"fams":["b"]`, `option 7: family "b" is not among`},
		{`"history":[["a"]]`, `"history":[["c"]]`, `bed 4: history: family "c"`},
		{`"crop":0`, `"crop":5`, "option 7: part of crop 5"},
		{`"n":1`, `"n":0`, "option 7: n is 0"},
		{`"sun":1,"history"`, `"sun":4,"history"`, "bed 4: sun is 4"},
		{`"length":2`, `"length":1e99`, "bed 4: length is"},
	} {
		_, err := Read(strings.NewReader(strings.Replace(good, c.from, c.to, 1)))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s for %s: %v, want %q", c.to, c.from, err, c.want)
		}
	}
}

// Whatever the text, reading it and looking for a plan does not panic.
func FuzzRead(f *testing.F) {
	f.Add(Invent(1, 1, 2))
	f.Add([]byte(`{"weeks":3}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := Read(bytes.NewReader(text))
		if err != nil || len(p.Beds) > 20 || len(p.Options) > 200 {
			return
		}
		if found := Find(p, 1, Effort{Steps: 50}); found.Value > found.Bound+1e-6 {
			t.Errorf("value %g above the bound %g", found.Value, found.Bound)
		}
	})
}
