package garden

import (
	"slices"
	"strings"
)

// didYouMean is the remedy for a name that is not known.
func didYouMean(near []string, otherwise string) string {
	switch len(near) {
	case 0:
		return otherwise
	case 1:
		return "did you mean " + near[0] + "?"
	}
	return "did you mean " + strings.Join(near[:len(near)-1], ", ") + " or " + near[len(near)-1] + "?"
}

// nearest are up to three known names within a few letters of a word, the nearest first.
func nearest(word string, known []string) []string {
	type candidate struct {
		name string
		far  int
	}
	var all []candidate
	for _, name := range known {
		far := edits(strings.ToLower(word), strings.ToLower(name))
		if far <= max(1, min(len(word), len(name))/3) && !slices.Contains(all, candidate{name, far}) {
			all = append(all, candidate{name, far})
		}
	}
	slices.SortStableFunc(all, func(a, b candidate) int { return a.far - b.far })
	var names []string
	for _, c := range all[:min(3, len(all))] {
		if c.far <= all[0].far+1 { // a clear winner stands alone
			names = append(names, c.name)
		}
	}
	return names
}

// edits is the least number of letters put in, left out or changed to make one word of the other.
func edits(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x) > 60 || len(y) > 60 {
		return 60
	}
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i, r := range x {
		above := row[0] // row i, column j−1
		row[0] = i + 1
		for j, s := range y {
			swap := above
			if r != s {
				swap++
			}
			above = row[j+1]
			row[j+1] = min(swap, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(y)]
}
