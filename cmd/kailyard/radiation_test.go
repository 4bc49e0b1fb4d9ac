package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/sun"
)

// TestRadiationIsDoubtedAtImport: an invented record of four years at the garden of the demo, whose file does not say where it
// was taken: the limit is that of the garden's latitude.
func TestRadiationIsDoubtedAtImport(t *testing.T) {
	dir := t.TempDir()
	book := filepath.Join(dir, "sunny.kailyard")
	run := func(args ...string) string {
		t.Helper()
		var out, errs bytes.Buffer
		m := Main{Stdout: &out, Stderr: &errs, Today: civil.Of(2027, 1, 5)}
		if code := m.Run(t.Context(), append(args, "--book", book)); code != exitDone {
			t.Fatalf("%v: exit %d: %s", args, code, errs.String())
		}
		return strings.Join(strings.Fields(out.String()), " ")
	}
	record := func(factor float64, slip civil.Date) string {
		var b strings.Builder
		b.WriteString("# station: invented\ndate,tmin_c,tmax_c,rain_mm,radiation_mj_m2\n")
		for d := civil.Of(2022, 1, 1); d <= civil.Of(2026, 12, 31); d++ {
			v := factor * []float64{0.75, 0.3, 0.5, 0.74}[int(d)%4] * float64(sun.Extraterrestrial(42, d.YearDay()))
			if d == slip {
				v = 45
			}
			fmt.Fprintf(&b, "%s,%d,%d,%d,%.2f\n", d, 4+int(d)%5, 15+int(d)%7, int(d)%3, v)
		}
		name := filepath.Join(dir, "record.csv")
		if err := os.WriteFile(name, []byte(b.String()), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	run("new", "--from", "demo.toml")
	if said := run("weather", record(1, 0)); strings.Contains(said, "Radiation") {
		t.Errorf("an honest record is doubted: %s", said)
	}
	for _, factor := range []float64{1.3, 1.6, 2} {
		said := run("weather", record(factor, 0))
		for _, want := range []string{"About this record: • Radiation is above what a sky without a cloud lets through on ", "(line ", "another unit", "radiation_j_cm2", "check the latitude"} {
			if !strings.Contains(said, want) {
				t.Errorf("%g times: %q is not said: %s", factor, want, said)
			}
		}
	}
	said := run("weather", record(1, civil.Of(2024, 6, 30)))
	for _, want := range []string{"on 1 of 1826 days that have it, first on 2024-06-30 (line 914): 45.0 MJ/m²", "north no more than", "was a digit mistyped"} {
		if !strings.Contains(said, want) {
			t.Errorf("a day of 45 MJ/m²: %q is not said: %s", want, said)
		}
	}
	if said := run("weather", "--json"); !strings.Contains(said, `"above clear sky"`) {
		t.Error("the remark is not kept with the record")
	}
}
