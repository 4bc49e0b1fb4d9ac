package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

// The scripts run the program itself, as a person would, on a fixed day.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"kailyard": func() {
			m := Main{Stdout: os.Stdout, Stderr: os.Stderr, Today: civil.Of(2027, 1, 9), Services: askAt(os.Getenv(servicesAt))}
			os.Exit(m.Run(context.Background(), os.Args[1:]))
		},
	})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			s := serveWeather()
			e.Defer(s.Close)
			e.Values[servicesAt] = s
			e.Setenv(servicesAt, s.URL)
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			// record PLACE YEARS FILE writes years of a built-in climate as a plain CSV, standing in
			// for a person's own record.
			"record": func(ts *testscript.TestScript, _ bool, args []string) {
				climate, ok := climateOf(args[0])
				if !ok {
					ts.Fatalf("no climate %s", args[0])
				}
				var years int
				if _, err := fmt.Sscan(args[1], &years); err != nil {
					ts.Fatalf("%v", err)
				}
				var text strings.Builder
				text.WriteString("date,tmin_c,tmax_c,rain_mm\n")
				for _, d := range weather.Generate(climate, 2020-years+1, years, 3).Days {
					fmt.Fprintf(&text, "%s,%.1f,%.1f,%.1f\n", d.Date, float64(d.Min), float64(d.Max), float64(d.Rain))
				}
				ts.Check(os.WriteFile(ts.MkAbs(args[2]), []byte(text.String()), 0o644))
			},
			// services MODE makes the weather services work (fine) or fail (busy, page, empty, gone).
			"services": func(ts *testscript.TestScript, _ bool, args []string) {
				s := ts.Value(servicesAt).(*standIn)
				switch args[0] {
				case "gone":
					s.Close()
				case "fine":
					s.mode.Store("")
				default:
					s.mode.Store(args[0])
				}
			},
			// swap FILE exchanges the second and third columns of a CSV under its header.
			"swap": func(ts *testscript.TestScript, _ bool, args []string) {
				lines := strings.Split(ts.ReadFile(args[0]), "\n")
				for i, line := range lines[1:] {
					if f := strings.Split(line, ","); len(f) > 2 {
						f[1], f[2] = f[2], f[1]
						lines[i+1] = strings.Join(f, ",")
					}
				}
				ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Join(lines, "\n")), 0o644))
			},
		},
	})
}

// TestEveryHelpEndsInAnExample: the last line of each command's help is a command to try.
func TestEveryHelpEndsInAnExample(t *testing.T) {
	names := []string{"demo", "new", "import", "export", "weather", "places", "plan", "jobs", "orders", "note",
		"journal", "write", "windows", "ready", "climate", "frost", "crops", "crops own", "crops vary", "crops add", "crops file", "crops remove", "sources", "serve", "backup", "restore"}
	for _, name := range names {
		var out, errs bytes.Buffer
		m := Main{Stdout: &out, Stderr: &errs}
		if code := m.Run(t.Context(), append(strings.Fields(name), "--help")); code != exitDone {
			t.Fatalf("%s --help: exit %d: %s", name, code, errs.String())
		}
		lines := strings.Split(strings.TrimSpace(out.String()), "\n")
		if last := lines[len(lines)-1]; !strings.Contains(out.String(), "\nExample:\n") || !strings.HasPrefix(last, "  kailyard "+name) {
			t.Errorf("%s --help ends in %q, not in an example of its own", name, last)
		}
		doc, err := os.ReadFile(filepath.Join("..", "..", "doc", "cli.md"))
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(doc), "| `"+name) {
			t.Errorf("doc/cli.md does not list %s", name)
		}
	}
}
