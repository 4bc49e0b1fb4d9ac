package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"unicode"

	"kailyard/internal/civil"
)

var update = flag.Bool("update", false, "rewrite the plans kept in testdata/gardens")

// The gardens that were read as a practised gardener reads a plan, line by line: what such a person would not do, what was mended
// and what is left stands in testdata/gardens beside each. The plans kept there are the program's own text and prove nothing; they hold
// still what was read, so that a change of plans is seen and read again. After one: go test ./cmd/kailyard -run TestGardensRead -update
func TestGardensRead(t *testing.T) {
	for _, g := range []struct {
		name, place string
		weeks       []string
	}{
		{"shady-yard", "new-york", []string{"2027-04-12", "2027-07-12", "2027-10-18"}},
		{"cold-drills", "bozeman", []string{"2027-05-17", "2027-07-12", "2027-09-13"}},
		{"dry-terraces", "el-paso", []string{"2027-02-15", "2027-05-10", "2027-09-13"}},
	} {
		t.Run(g.name, func(t *testing.T) {
			got := planRead(t, filepath.Join("testdata", "gardens", g.name+".toml"), g.place, g.weeks)
			file := filepath.Join("testdata", "gardens", g.name+".plan.txt")
			if *update {
				if err := os.WriteFile(file, got, 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if runtime.GOARCH != "amd64" {
				t.Skip("plans were read as amd64 makes them; another processor may round a sum otherwise and find another plan as good")
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if n := len(planned(string(want))); n < 50 {
				t.Fatalf("only %d lines of a plan stand in %s", n, file)
			}
			if was, is, apart := firstApart(planned(string(want)), planned(string(got))); apart {
				t.Errorf("the plan of %s is another than the one that was read:\n  was %s\n  is  %s\nRead it again, mend the list beside it, and keep it with -update.", g.name, was, is)
			}
		})
	}
}

// planRead is what the program prints of a garden's plan and of some weeks' jobs, on a day of January.
func planRead(t *testing.T, garden, place string, weeks []string) []byte {
	t.Helper()
	book := filepath.Join(t.TempDir(), "read.kailyard")
	var out bytes.Buffer
	run := func(keep bool, args ...string) {
		var said, errs bytes.Buffer
		m := Main{Stdout: &said, Stderr: &errs, Today: civil.Of(2027, 1, 9)}
		if code := m.Run(t.Context(), append(args, "--book", book)); code != exitDone {
			t.Fatalf("kailyard %s: exit %d: %s", strings.Join(args, " "), code, errs.String())
		}
		if keep {
			out.Write(said.Bytes())
		}
	}
	run(false, "new", "--from", garden)
	run(false, "weather", "--place", place)
	run(true, "plan")
	for _, week := range weeks {
		out.WriteString("\n")
		run(true, "jobs", "--week", week)
	}
	return out.Bytes()
}

// planned is the lines of what goes where and the headings of jobs: what tells one plan from another. How the rest is worded, and what is
// told of water, sums and chances, may change without the plan.
func planned(text string) []string {
	var out []string
	part := ""
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\n")
		switch {
		case strings.HasPrefix(line, "WHAT ") || strings.HasPrefix(line, "Week of "):
			part = line[:5]
			if part == "WHAT " {
				part = line
			}
		case part == "WHAT GOES WHERE":
			out = append(out, line)
		case part == "Week " && len(line) > 2 && line[:2] == "  " && unicode.IsUpper(rune(line[2])) && !strings.HasSuffix(line, ":"):
			out = append(out, line)
		}
	}
	return out
}

// firstApart is the first line in which two plans differ.
func firstApart(a, b []string) (was, is string, apart bool) {
	for i := range max(len(a), len(b)) {
		if was, is = lineAt(a, i), lineAt(b, i); was != is || i >= min(len(a), len(b)) {
			return was, is, true
		}
	}
	return "", "", false
}

func lineAt(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return "(nothing)"
}
