package fetch

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"unicode"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

// read makes a year of an answer. What it says of itself is held against what was asked for: the
// service, the days, the place. A nil record and no failure means that there is nothing for the year.
func (a *asker) read(body []byte, from, to civil.Date) (*weather.Record, *failure) {
	s := a.request.Service
	if bytes.HasPrefix(bytes.TrimSpace(body), []byte("<")) {
		return nil, &failure{err: &Error{
			Kind: WebPage, Says: s.Name + " answers with a web page instead of data" + titled(body),
			Remedy: "a network that wants a sign-in, or work on the service: open a page in the browser, then try again",
		}}
	}
	record, err := weather.Read(s.Name, bytes.NewReader(body))
	var file *weather.FileError
	switch {
	case errors.As(err, &file) && file.Nothing && a.mayBeEmpty(body, to):
		return nil, nil
	case err != nil:
		return nil, a.unreadable(err)
	case record.Source != s.source:
		return nil, a.unreadable(fmt.Errorf("it is in the form of %s", record.Source))
	}
	if f := a.hold(record, from, to); f != nil {
		return nil, f
	}
	return record, nil
}

// mayBeEmpty says whether an answer without temperatures is an honest one: a station has years
// without readings, and any service may have none yet for the first days of a year.
func (a *asker) mayBeEmpty(body []byte, to civil.Date) bool {
	if a.request.Service.ByStation {
		return true
	}
	return len(bytes.TrimSpace(body)) > 0 && (to.Month() != 12 || to.Day() != 31)
}

// unreadable is an answer that the readers refuse. It may have been damaged on the way, so it is
// asked for again.
func (a *asker) unreadable(err error) *failure {
	says := strings.TrimPrefix(err.Error(), a.request.Service.Name+": ")
	return &failure{again: true, err: &Error{
		Kind: Changed, Says: fmt.Sprintf("the answer of %s cannot be read: %s", a.request.Service.Name, says), Cause: err,
		Remedy: "where that stays so, the service has changed its form: take a newer kailyard, another service, or a file downloaded by hand",
	}}
}

// hold compares an answer with the question.
func (a *asker) hold(r *weather.Record, from, to civil.Date) *failure {
	first, last := r.Days[0].Date, r.Days[len(r.Days)-1].Date
	s := a.request.Service
	wrong := func(format string, args ...any) *failure {
		return &failure{err: &Error{Kind: Changed, Says: s.Name + " answers " + fmt.Sprintf(format, args...), Remedy: "try another service, or a file downloaded by hand"}}
	}
	switch {
	case first < from || last > to:
		return wrong("with the days %s to %s where %s to %s were asked for", first, last, from, to)
	case !s.ByStation && (first != from || last != to):
		return &failure{again: true, err: &Error{Kind: CutOff, Says: fmt.Sprintf("the answer of %s has only the days %s to %s of %s to %s", s.Name, first, last, from, to), Remedy: "try again later"}}
	case s.ByStation && r.Station.ID != a.request.Station:
		return wrong("with station %s where %s was asked for", r.Station.ID, a.request.Station)
	case !s.ByStation && r.Station.Located && !near(r.Station, a.request):
		return wrong("for %.2f, %.2f where %.2f, %.2f was asked for", r.Station.Latitude, r.Station.Longitude, a.request.Latitude, a.request.Longitude)
	}
	return nil
}

// near allows for the size of a cell.
func near(s weather.Station, r Request) bool {
	const cell = 1.5 // degrees
	east := math.Abs(math.Mod(s.Longitude-r.Longitude+540, 360) - 180)
	return math.Abs(s.Latitude-r.Latitude) <= cell && (east <= cell || math.Abs(r.Latitude) > 85)
}

// reason is what a refusal says in its own words, in whichever of the services' forms.
func reason(body []byte) string {
	var a struct {
		Reason       string          `json:"reason"`
		ErrorMessage string          `json:"errorMessage"`
		Message      string          `json:"message"`
		Messages     json.RawMessage `json:"messages"`
		Detail       json.RawMessage `json:"detail"`
		Errors       []struct {
			Message string `json:"message"`
		} `json:"errors"`
	}
	if json.Unmarshal(body, &a) != nil {
		if bytes.HasPrefix(bytes.TrimSpace(body), []byte("<")) {
			return ""
		}
		return clean(string(body))
	}
	said := []string{a.Reason, a.ErrorMessage, a.Message}
	for _, e := range a.Errors {
		said = append(said, e.Message)
	}
	for _, raw := range []json.RawMessage{a.Messages, a.Detail} {
		var list []string
		var one string
		switch {
		case json.Unmarshal(raw, &list) == nil:
			said = append(said, list...)
		case json.Unmarshal(raw, &one) == nil:
			said = append(said, one)
		default:
			said = append(said, string(raw))
		}
	}
	return clean(strings.Join(said, " "))
}

var title = regexp.MustCompile(`(?is)<title[^>]*>(.*?)</title`)

// titled quotes the title of a web page, which usually says whose it is.
func titled(page []byte) string {
	m := title.FindSubmatch(page[:min(len(page), 1<<16)])
	if m == nil {
		return ""
	}
	if text := clean(string(m[1])); text != "" {
		return " (“" + text + "”)"
	}
	return ""
}

// clean makes somebody else's words fit for a sentence: one line, no control characters, not long.
func clean(text string) string {
	text = strings.Map(func(c rune) rune {
		if unicode.IsControl(c) || !unicode.IsPrint(c) && c != ' ' {
			return ' '
		}
		return c
	}, strings.ToValidUTF8(text, " "))
	text = strings.TrimRight(strings.Join(strings.Fields(text), " "), ".; ")
	if runes := []rune(text); len(runes) > 160 {
		text = string(runes[:160]) + "…"
	}
	return text
}
