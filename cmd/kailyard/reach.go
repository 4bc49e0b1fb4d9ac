package main

import (
	"fmt"
	"io"
	"math"

	"kailyard/internal/season"
)

// mostReckoned is the largest garden, in beds, whose rest is told with every plan: in a larger one that takes some seconds, and is
// told where it is asked for.
const mostReckoned = 60

type portionJSON struct {
	Name  string  `json:"name"`
	Share float64 `json:"share"`
}

// reach tells how near the plan comes to what any plan could: null and nothing where it does not know.
func (v *planJSON) reach(r *season.Result) {
	v.Rest = []portionJSON{}
	quick, known := r.Reaches()
	if !known {
		return
	}
	bound, share := r.Plan.Bound, thousandth(quick.Share)
	v.Bound, v.Reach = &bound, &share
	if len(r.Garden.Beds) > mostReckoned {
		return
	}
	all, _ := r.Reach()
	v.Rest = portionsOf(all)
}

func portionsOf(reach season.Reach) []portionJSON {
	out := []portionJSON{}
	for _, p := range reach.Parts {
		out = append(out, portionJSON{p.Name, thousandth(p.Share)})
	}
	return out
}

func thousandth(v float64) float64 { return math.Round(v*1000) / 1000 }

// reachWords says how near the plan comes to what any plan could, and where the rest goes.
func reachWords(w io.Writer, r *season.Result) {
	reach, known := r.Reaches()
	if !known {
		return
	}
	says := reach.Says
	if len(r.Garden.Beds) <= mostReckoned {
		reach, _ = r.Reach()
		says += " " + reach.Rest + reach.Untold
	} else {
		says += " Where the rest goes, and what would help: kailyard gain."
	}
	fmt.Fprintln(w, wrapped(says, "", 92))
}
