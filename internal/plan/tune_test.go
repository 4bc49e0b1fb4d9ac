package plan

import (
	"fmt"
	"os"
	"testing"
	"time"
)

func TestTune(t *testing.T) {
	if os.Getenv("TUNE") == "" {
		t.Skip("set TUNE to compare rounds")
	}
	in := inClimate(t, os.Getenv("TUNE"))
	for _, rounds := range []int{0, 10000, 30000, 100000, 300000} {
		var sum float64
		t0 := time.Now()
		for seed := range 4 {
			in.Settings.Seed, in.Settings.Rounds = int64(seed), rounds
			p, err := Make(in)
			if err != nil {
				t.Fatal(err)
			}
			sum += p.Value
			fmt.Printf(" %.0f", p.Value)
		}
		fmt.Printf("  rounds %d mean %.1f time %v\n", rounds, sum/4, time.Since(t0)/4)
	}
}
