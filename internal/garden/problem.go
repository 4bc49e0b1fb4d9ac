package garden

import (
	"fmt"
	"strings"
)

// Problem is one thing wrong with what the person told, fit to stand beside a form field.
type Problem struct {
	Field  string // "width": the name of the field in forms and in the garden description; empty for the whole
	Says   string // what is wrong, a clause: "width must be more than 0"
	Remedy string // what to do about it; may be empty
	Doubt  bool   // odd but possible: told, not refused
}

// Error is the problem as a sentence.
func (p Problem) Error() string {
	if p.Remedy == "" {
		return p.Says
	}
	return p.Says + "; " + p.Remedy
}

// Problems are all that is wrong with one thing, in the order of its fields. As an error they are
// returned by Err only.
type Problems []Problem

// Error is one sentence a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Of are the problems of one field.
func (ps Problems) Of(field string) Problems {
	return ps.which(func(p Problem) bool { return p.Field == field })
}

// Refused are the problems for which the thing cannot be taken.
func (ps Problems) Refused() Problems { return ps.which(func(p Problem) bool { return !p.Doubt }) }

// Doubts are the problems to tell of and let pass.
func (ps Problems) Doubts() Problems { return ps.which(func(p Problem) bool { return p.Doubt }) }

// Err is the refused problems as an error, nil when there are none.
func (ps Problems) Err() error {
	if refused := ps.Refused(); len(refused) > 0 {
		return refused
	}
	return nil
}

func (ps Problems) which(keep func(Problem) bool) Problems {
	var kept Problems
	for _, p := range ps {
		if keep(p) {
			kept = append(kept, p)
		}
	}
	return kept
}

func (ps *Problems) add(field, remedy, says string, args ...any) {
	*ps = append(*ps, Problem{Field: field, Says: fmt.Sprintf(says, args...), Remedy: remedy})
}

func (ps *Problems) doubt(field, remedy, says string, args ...any) {
	*ps = append(*ps, Problem{Field: field, Says: fmt.Sprintf(says, args...), Remedy: remedy, Doubt: true})
}

// within says whether lo ≤ x ≤ hi; no number that is none is within anything.
func within[T ~float64](x, lo, hi T) bool { return x >= lo && x <= hi }
