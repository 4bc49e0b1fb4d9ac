package allot

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write testdata anew")

// kept are the invented problems that stand as text under testdata, so that figures can be compared over time.
var kept = []struct {
	name        string
	seed        uint64
	beds, crops int
}{
	{"four.json", 1, 4, 10},
	{"twelve.json", 2, 12, 24},
	{"forty.json", 3, 40, 40},
}

func TestKeptProblemsAreInvented(t *testing.T) {
	for _, k := range kept {
		path := filepath.Join("testdata", k.name)
		text := Invent(k.seed, k.beds, k.crops)
		have, err := os.ReadFile(path)
		if err != nil || !bytes.Equal(have, text) {
			if !*update {
				t.Errorf("%s is not what its seed gives; run with -update to write it", path)
				continue
			}
			if err := os.WriteFile(path, text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func invented(t testing.TB, seed uint64, beds, crops int) (*Problem, []byte) {
	t.Helper()
	text := Invent(seed, beds, crops)
	p, err := Read(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return p, text
}
