package fetch

import (
	"errors"
	"fmt"
	"time"
)

// Kind is what sort of trouble a fetch met.
type Kind string

// The kinds of trouble.
const (
	Offline   Kind = "offline"    // the service cannot be reached
	Misplaced Kind = "misplaced"  // the coordinates or the station cannot be asked for
	NoStation Kind = "no station" // the service has nothing for the station
	Refused   Kind = "refused"    // the service refused the request
	Busy      Kind = "busy"       // it asks to come again later, or fails
	Changed   Kind = "changed"    // its answer cannot be read
	WebPage   Kind = "web page"   // its answer is a web page
	CutOff    Kind = "cut off"    // its answers end in the middle
	TooLarge  Kind = "too large"  // its answer is larger than a year of one place can be
	Stopped   Kind = "stopped"    // the person stopped it

	UnderWay     Kind = "under way"     // another fetch is at work
	NothingAsked Kind = "nothing asked" // there is no errand
)

// Error is trouble with a service: what happened, and what to do.
type Error struct {
	Kind   Kind
	Says   string
	Remedy string
	Wait   time.Duration // how long the service asks to wait; 0: it does not say
	Cause  error
}

// Error is the trouble as a sentence.
func (e *Error) Error() string {
	if e.Remedy == "" {
		return e.Says
	}
	return e.Says + "; " + e.Remedy
}

// Unwrap is the cause.
func (e *Error) Unwrap() error { return e.Cause }

// IsKind says whether an error is trouble of a kind.
func IsKind(err error, kind Kind) bool {
	var e *Error
	return errors.As(err, &e) && e.Kind == kind
}

func (r Request) nothing(first, last int) error {
	if r.Service.ByStation {
		return &Error{
			Kind: NoStation, Says: fmt.Sprintf("%s has no temperatures of station %s from %d to %d", r.Service.Name, r.Station, first, last),
			Remedy: "check the station's ID; if it was closed earlier, name its last year with --until YEAR; or choose another station",
		}
	}
	return &Error{Kind: Changed, Says: fmt.Sprintf("%s has nothing for %s from %d to %d", r.Service.Name, r.where(), first, last), Remedy: "check the site's coordinates, or try another service"}
}
