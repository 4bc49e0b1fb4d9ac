package soil

import (
	"fmt"

	"kailyard/internal/civil"
)

// dated is a day in a sentence that may be about any year.
func dated(d civil.Date) string { return d.Time().Format("2 Jan 2006") }

// verb is the form for one, or for many.
func verb(one bool, singular, plural string) string {
	if one {
		return singular
	}
	return plural
}

func passesWord(n int) string {
	if n == 1 {
		return "one pass"
	}
	return fmt.Sprintf("%d passes", n)
}
