package weather

import (
	"strconv"
	"strings"
	"time"

	"kailyard/internal/civil"
)

// Kept is one of the records somebody keeps, in a line.
type Kept struct {
	ID            int64
	Kept          time.Time // zero where it was not written down
	InUse         bool
	Origin        Origin
	Source        string
	Station       Station
	First, Last   civil.Date
	NoTemperature int   // days without a temperature
	Missing       []int // the years that have such days
}

// Fetched is what is kept from one service for one place.
type Fetched struct {
	Service, Place string        // as in Piece
	Station        Station       // as the newest year that names one has it
	Years          []FetchedYear // in order
}

// FetchedYear is one year of it.
type FetchedYear struct {
	Year          int
	Days          int        // 0: the service has nothing for the year
	NoTemperature int        // days of them without a temperature
	Asked         civil.Date // when it was asked for
	Until         civil.Date // the last day asked for
}

// Holes are the years between the first and the last that were never asked for, those the service has
// nothing for, and the number of days without a temperature in the others.
func (f Fetched) Holes() (unasked, empty []int, days int) {
	for i, y := range f.Years {
		if i > 0 {
			for missing := f.Years[i-1].Year + 1; missing < y.Year; missing++ {
				unasked = append(unasked, missing)
			}
		}
		if y.Days == 0 {
			empty = append(empty, y.Year)
		}
		days += y.NoTemperature
	}
	return unasked, empty, days
}

// LastAsked is the day the service was last asked.
func (f Fetched) LastAsked() (day civil.Date) {
	for _, y := range f.Years {
		day = max(day, y.Asked)
	}
	return day
}

// YearRuns names years, those in a row by the first and the last: "1996–1998, 2004".
func YearRuns(years []int) string {
	var words []string
	for i := 0; i < len(years); {
		j := i
		for j+1 < len(years) && years[j+1] == years[j]+1 {
			j++
		}
		word := strconv.Itoa(years[i])
		if j > i {
			word += "–" + strconv.Itoa(years[j])
		}
		words = append(words, word)
		i = j + 1
	}
	return strings.Join(words, ", ")
}
