package garden

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Fault is one thing wrong in a garden description, with its place.
type Fault struct {
	File         string
	Line, Column int    // from 1
	Part         string // `bed "Long drill"`; empty for the file
	Problem
}

// Error is "garden.toml:37:9: bed "Long drill": width must be more than 0; …".
func (f Fault) Error() string {
	part := ""
	if f.Part != "" {
		part = f.Part + ": "
	}
	return fmt.Sprintf("%s:%d:%d: %s%s", f.File, f.Line, f.Column, part, f.Problem.Error())
}

// Faults are all that is wrong in a garden description, in the order of its lines.
type Faults []Fault

// shownFaults is how many faults are told at once.
const shownFaults = 40

// Error is one fault a line.
func (fs Faults) Error() string {
	var lines []string
	for i, f := range fs {
		if i == shownFaults {
			lines = append(lines, fmt.Sprintf("%s: and %d more", f.File, len(fs)-shownFaults))
			break
		}
		lines = append(lines, f.Error())
	}
	return strings.Join(lines, "\n")
}

func (fs Faults) sort() {
	slices.SortStableFunc(fs, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
}
