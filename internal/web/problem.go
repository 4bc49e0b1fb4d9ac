package web

import (
	"errors"
	"net/http"

	"kailyard/internal/garden"
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
	unplanned
	refused  // the book's rules forbid it
	notTaken // the garden's rules find it wrong
	noRoom   // something stands there already
	busy     // the book is being written to by another program
	full     // there is no room on the disk
	readOnly // the book cannot be written to
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
	unplanned:  {http.StatusConflict, "Not planned yet"},
	refused:    {http.StatusConflict, "That cannot be done"},
	notTaken:   {http.StatusUnprocessableEntity, "That cannot be taken as it stands"},
	noRoom:     {http.StatusUnprocessableEntity, "It cannot stand there"},
	busy:       {http.StatusServiceUnavailable, "In use"},
	full:       {http.StatusInsufficientStorage, "No room"},
	readOnly:   {http.StatusForbidden, "Not to be written to"},
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
	Plan   bool // whether to offer making the plan
}

// fail shows an error as a page.
func (s *site) fail(w http.ResponseWriter, r *http.Request, err error) {
	p := asProblem(err)
	status := statuses[p.kind]
	page := problemPage{frame: s.bareFrame(status.title, r), Says: p.says, Remedy: p.remedy, Plan: p.kind == unplanned && s.Replan != nil}
	if err := s.render(w, status.code, "problem", page); err != nil {
		http.Error(w, p.says+" "+p.remedy, status.code)
	}
}

// told is an error of the store that says what happened and what to do.
type told interface {
	error
	Told() (kind, says, remedy string)
}

// kinds are the store's words for kinds of trouble.
var kinds = map[string]kind{
	"unknown": notFound, "refused": refused, "in use": busy, "full": full, "protected": readOnly, "older": readOnly,
}

func asProblem(err error) problem {
	var p problem
	var large *http.MaxBytesError
	var store told
	var wrong garden.Problems
	switch {
	case errors.As(err, &p):
		return p
	case errors.As(err, &store):
		kind, says, remedy := store.Told()
		return problem{kinds[kind], sentence(says, ""), sentence(remedy, "")}
	case errors.As(err, &wrong):
		return problem{notTaken, sentence(wrong.Error(), ""), "Go back and mend it."}
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
