// Command planbench is a plan for a problem in the open form of internal/allot, with its bound, against the clock
//
// It prints one JSON object: value, bound, the seconds it took and the plan, checked by allot/audit before it is printed.
//
//	go run ./cmd/planbench -instance garden.json -seconds 10 -seed 1
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"runtime"
	"strings"
	"time"

	"kailyard/internal/allot"
	"kailyard/internal/allot/audit"
)

// report is what is printed.
type report struct {
	Instance string           `json:"instance"`
	Seed     uint64           `json:"seed"`
	Value    float64          `json:"value"`
	Bound    float64          `json:"bound"`
	Reached  float64          `json:"reached"` // value / bound
	Seconds  float64          `json:"seconds"`
	Steps    int              `json:"steps"`
	Plan     []audit.Planting `json:"plan"`
}

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "planbench:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	flags := flag.NewFlagSet("planbench", flag.ContinueOnError)
	instance := flags.String("instance", "", "problem in the open JSON form")
	seconds := flags.Float64("seconds", 10, "time to take, bound and search together")
	seed := flags.Uint64("seed", 1, "the same seed and steps give the same plan")
	steps := flags.Int("steps", 0, "moves to try instead of a time")
	mps := flags.Bool("mps", false, "print the relaxed problem as MPS and stop")
	if err := flags.Parse(args); err != nil {
		return err
	}
	text, err := os.ReadFile(*instance)
	if err != nil {
		return fmt.Errorf("give a problem with -instance FILE: %w", err)
	}
	p, err := allot.Read(bytes.NewReader(text))
	if err != nil {
		return fmt.Errorf("%s: %w", *instance, err)
	}
	if *mps {
		return allot.WriteMPS(out, p)
	}
	runtime.GOMAXPROCS(1)
	start := time.Now()
	effort := allot.Effort{Steps: *steps}
	if *steps == 0 {
		effort.Spent = func() float64 { return time.Since(start).Seconds() / *seconds }
	}
	found := allot.Find(p, *seed, effort)
	r := report{Instance: *instance, Seed: *seed, Bound: found.Bound, Seconds: time.Since(start).Seconds(), Steps: found.Steps}
	r.Plan = lines(p, found.Placements)
	if r.Value, err = judged(text, r.Plan, found.Value); err != nil {
		return err
	}
	r.Reached = r.Value / r.Bound
	return json.NewEncoder(out).Encode(r)
}

func lines(p *allot.Problem, placements []allot.Placement) []audit.Planting {
	sides := map[allot.Lane]string{allot.FirstHalf: "first", allot.SecondHalf: "second", allot.WholeWidth: "both"}
	plan := []audit.Planting{}
	for _, x := range placements {
		plan = append(plan, audit.Planting{Bed: p.Beds[x.Bed].ID, Option: p.Options[x.Option].ID, Area: x.Area,
			Strip: audit.Strip{Side: sides[x.Strip.Lane], From: x.Strip.From, To: x.Strip.To}})
	}
	return plan
}

// judged is the value by the judge's own sums, or what is wrong with the plan.
func judged(text []byte, plan []audit.Planting, claimed float64) (float64, error) {
	c, err := audit.Read(bytes.NewReader(text))
	if err != nil {
		return 0, err
	}
	value, faults := c.Judge(plan)
	if len(faults) > 0 {
		return 0, fmt.Errorf("the plan breaks rules:\n%s", strings.Join(faults, "\n"))
	}
	if math.Abs(value-claimed) > 1e-6*(1+math.Abs(value)) {
		return 0, fmt.Errorf("the search claims %g, the judge counts %g", claimed, value)
	}
	return value, nil
}
