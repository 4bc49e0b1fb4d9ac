package light

import (
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// Sun is the direct sun on a bed by the months of a season or of a part of it, hours a day.
type Sun []quantity.Hour

// Mean is the hours a day over all of them.
func (s Sun) Mean() (mean quantity.Hour) {
	for _, h := range s {
		mean += h / quantity.Hour(len(s))
	}
	return mean
}

// For is the hours a day that count for a crop: of no month more than it needs, for what it cannot use in June does not make up
// for a dark September.
func (s Sun) For(wants crop.Light) (mean quantity.Hour) {
	for _, h := range s {
		if wants.Needs > 0 {
			h = min(h, wants.Needs)
		}
		mean += h / quantity.Hour(len(s))
	}
	return mean
}

// Share is the share of its full yield that a crop makes of the sun.
func (s Sun) Share(wants crop.Light) float64 { return Share(s.For(wants), wants) }
