package season

import (
	"encoding/json"
	"maps"
	"testing"

	"kailyard/internal/crop"
)

// shelfOf is a keeper in memory, which counts.
func shelfOf(kept map[string][]byte, made *int) *TableKeeper {
	return &TableKeeper{
		Read: func(digests []string) map[string][]byte {
			found := map[string][]byte{}
			for _, d := range digests {
				if body, ok := kept[d]; ok {
					found[d] = body
				}
			}
			return found
		},
		Keep: func(tables map[string][]byte) {
			*made += len(tables)
			maps.Copy(kept, tables)
		},
	}
}

// A season from kept tables is the season from tables made: the plan, jobs and orders byte for byte. What is kept is made once; another
// want makes only its own tables; what is damaged is made again.
func TestASeasonFromKeptTables(t *testing.T) {
	in := comparedInput(t, someWants()...)
	kept, made := map[string][]byte{}, 0
	text := func() string {
		t.Helper()
		r, err := Compute(in)
		if err != nil {
			t.Fatal(err)
		}
		body, err := json.Marshal([]any{r.Plan, r.Jobs, r.Orders})
		if err != nil {
			t.Fatal(err)
		}
		return string(body)
	}
	counted := func(what string, want int) {
		t.Helper()
		if made != want {
			t.Errorf("%s: %d tables made, want %d", what, made, want)
		}
		made = 0
	}
	without := text()
	options, err := Options(in.Garden, nil, in.Crops)
	if err != nil {
		t.Fatal(err)
	}
	in.Keeper = shelfOf(kept, &made)
	if text() != without {
		t.Error("the first season with a keeper is another")
	}
	counted("first", len(options))
	if text() != without {
		t.Error("the season from kept tables is another")
	}
	counted("second", 0)
	for d, body := range kept {
		kept[d] = body[:len(body)/2]
		break
	}
	if text() != without {
		t.Error("the season from a damaged table is another")
	}
	counted("one damaged", 1)
	more := in.Garden.Wants[0]
	more.ID, more.Crop = 99, "okra"
	in.Garden.Wants = append(in.Garden.Wants[:len(in.Garden.Wants):len(in.Garden.Wants)], more)
	text()
	okra, _ := in.Crops.Match("okra")
	methods := 0
	for _, c := range okra {
		methods += len(c.Methods)
	}
	counted("another want", methods)
	in.Years--
	text()
	counted("other weather", len(options)+methods)
}

// BenchmarkPrepare makes a season's tables as the first command does, and as every later one.
func BenchmarkPrepare(b *testing.B) {
	in := comparedInput(b, someWants()...)
	in.Garden.Site.Covers = []string{crop.Protections()[0].ID, crop.Protections()[1].ID}
	in.Years = 0
	run := func(name string, keeper *TableKeeper) {
		b.Run(name, func(b *testing.B) {
			in.Keeper = keeper
			if _, err := Prepare(in); err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				if _, err := Prepare(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	made := 0
	run("made", nil)
	run("kept", shelfOf(map[string][]byte{}, &made))
}
