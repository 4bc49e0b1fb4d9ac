package plan

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// The tests of this file check nothing: they print a plan to be read as a gardener reads it, and
// compare numbers of rounds. Each runs only when its environment variable is set.

func TestPrintHousehold(t *testing.T) {
	id := os.Getenv("PRINT_CLIMATE")
	if id == "" {
		t.Skip("set PRINT_CLIMATE to a climate's ID to read its plan")
	}
	in := inClimate(t, id)
	p, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	printPlan(in, p)
}

// PRINT_RECORD=path:latitude reads the household's plan on a weather record of one's own.
func TestPrintOnRecord(t *testing.T) {
	name, latitude, ok := strings.Cut(os.Getenv("PRINT_RECORD"), ":")
	if !ok {
		t.Skip("set PRINT_RECORD to a weather file and a latitude, path:24.6, to read the household's plan there")
	}
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	record, err := weather.Read(name, file)
	if err != nil {
		t.Fatal(err)
	}
	at, err := strconv.ParseFloat(latitude, 64)
	if err != nil {
		t.Fatal(err)
	}
	in := onWeather(t, record, at)
	p, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	printPlan(in, p)
}

func printPlan(in Input, p *Plan) {
	beds := map[int64]string{}
	for _, b := range in.Garden.Beds {
		beds[b.ID] = b.Name
	}
	for _, x := range p.Plantings {
		fmt.Printf("%s %-16s %-22s %-7s %s→%s first %s–%s last %s at %.2f–%.2f × %.2f–%.2f rows %d plants %d %.1f kg %d/%d %s %s\n", x.Key, beds[x.BedID], x.CropID, x.Way,
			x.Start.Short(), x.Clear, x.First.P10.Short(), x.First.P90.Short(), x.Last.P50.Short(), x.Place.AlongFrom, x.Place.AlongTo, x.Place.AcrossFrom, x.Place.AcrossTo, x.Rows, x.Plants, x.Expect, x.Success, x.Years, x.Role, x.Partner)
		if os.Getenv("PRINT_REASONS") != "" {
			for _, r := range x.Reasons {
				fmt.Println("      -", r.Says)
			}
		}
	}
	for _, s := range p.Supply {
		fmt.Printf("%-16s w%d asked %.1f expected %.1f %v\n", s.Want.Crop, s.Want.Weight, s.Asked, s.Expected, s.Keys)
		for _, r := range s.Short {
			fmt.Println("      -", r.Says)
		}
	}
	for _, n := range p.Notes {
		fmt.Println(n.Says)
	}
	fmt.Println("value", p.Value)
}

func TestPrintDemo(t *testing.T) {
	if os.Getenv("PRINT_DEMO") == "" {
		t.Skip("set PRINT_DEMO to read the demo's plan")
	}
	in := demo(t)
	p, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	printPlan(in, p)
}

func TestPrintWindows(t *testing.T) {
	id := os.Getenv("PRINT_WINDOWS")
	if id == "" {
		t.Skip("set PRINT_WINDOWS to a climate's ID to read the windows of the household's crops")
	}
	in := inClimate(t, id)
	for _, tb := range in.Tables {
		fmt.Println(tb.Option.Crop.ID, tb.Option.Crop.Methods[tb.Option.Method].Way, tb.Option.Crop.Practice.Succession, tb.Option.Crop.Harvest.StoreDays, tb.Option.Crop.Harvest.Yield)
		for _, w := range tb.Windows(in.Settings.Share) {
			s := tb.Summary(w.Best)
			fmt.Println("    ", w.Span, "best", w.Best.Short(), s.Success, w.Days, "last", s.Last, s.Yield, w.Opens.Reason(quantity.Metric).Says, w.Closes.Reason(quantity.Metric).Says)
		}
	}
}

func TestCompareRounds(t *testing.T) {
	id := os.Getenv("COMPARE_ROUNDS")
	if id == "" {
		t.Skip("set COMPARE_ROUNDS to a climate's ID, or demo, to compare rounds")
	}
	in := household(t)
	if id == "demo" {
		in = demo(t)
	} else if id != "cold" {
		in = inClimate(t, id)
	}
	for _, rounds := range []int{0, 10_000, 30_000, 120_000, 300_000} {
		var sum float64
		began := time.Now()
		for seed := range 4 {
			in.Settings.Seed, in.Settings.Rounds = int64(seed), rounds
			p, err := Make(in)
			if err != nil {
				t.Fatal(err)
			}
			sum += p.Value
			fmt.Printf(" %.0f", p.Value)
		}
		fmt.Printf("  rounds %d: mean %.1f, %v each\n", rounds, sum/4, time.Since(began)/4)
	}
}
