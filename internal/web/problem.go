package web

import (
	"errors"
	"net/http"
)

// kind is what sort of trouble a request met.
type kind uint8

// The kinds of trouble.
const (
	internal kind = iota
	badRequest
	notFound
	forbidden
	notReady // the garden lacks something the page is made from
)

// statuses is the one table from kinds to HTTP.
var statuses = map[kind]struct {
	code  int
	title string
}{
	internal:   {http.StatusInternalServerError, "Something went wrong"},
	badRequest: {http.StatusBadRequest, "That cannot be read"},
	notFound:   {http.StatusNotFound, "Not here"},
	forbidden:  {http.StatusForbidden, "Not allowed"},
	notReady:   {http.StatusConflict, "Not yet"},
}

// problem is trouble with a sentence for the person and what to do about it.
type problem struct {
	kind   kind
	says   string
	remedy string
}

func (p problem) Error() string { return p.says }

// problemPage is any page that could not be shown.
type problemPage struct {
	frame
	Says   string
	Remedy string
}

// fail shows an error as a page.
func (s *site) fail(w http.ResponseWriter, r *http.Request, err error) {
	p := asProblem(err)
	status := statuses[p.kind]
	page := problemPage{frame: s.bareFrame(status.title, r), Says: p.says, Remedy: p.remedy}
	if err := s.render(w, status.code, "problem", page); err != nil {
		http.Error(w, p.says+" "+p.remedy, status.code)
	}
}

func asProblem(err error) problem {
	var p problem
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &p):
		return p
	case errors.As(err, &large):
		return problem{badRequest, "The form is too long.", "Shorten the notes and send it again."}
	}
	return problem{internal, "The page could not be made: " + err.Error() + ".", "Nothing in the book was changed by looking. Go back and try again; if it stays so, check the garden's settings and the weather record."}
}

func missing(what string) error {
	return problem{notFound, "There is no " + what + ".", "It may have been removed or belong to another season. Use the links above to find what is there."}
}

func (s *site) nowhere(http.ResponseWriter, *http.Request) error {
	return problem{notFound, "There is no page at this address.", "Use the links above, or go back to today's page."}
}
