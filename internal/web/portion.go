package web

import (
	"fmt"
	"net/http"
	"strconv"
)

// portion is the part of a long list that one page shows, so that a page of a market garden is as
// quickly made and read as one of a kitchen garden.
type portion struct {
	From, To int    // the list's items shown, To not among them
	Says     string // "Beds 25 to 48 of 100"; empty when all are shown
	Links    []navLink
}

// portionAsked is the part of n items, so many to a page, that the address asks for by its number:
// "?part=2". One beyond the last is the last.
func portionAsked(r *http.Request, n, most int) (int, error) {
	text := r.URL.Query().Get("part")
	if text == "" {
		return 1, nil
	}
	part, err := strconv.Atoi(text)
	if err != nil || part < 1 {
		return 0, problem{badRequest, quoted(text) + " is no part of the list.", "Choose a part by the links on the page, or correct the address."}
	}
	return min(part, max(1, (n+most-1)/most)), nil
}

// portionOf is a part of n items; to is the address of a part, nouns the word for the items.
func portionOf(part, n, most int, nouns string, to func(part int) string) portion {
	p := portion{From: min(n, (part-1)*most), To: min(n, part*most)}
	if n <= most {
		return p
	}
	p.Says = fmt.Sprintf("%s %d to %d of %d", nouns, p.From+1, p.To, n)
	for k := 1; (k-1)*most < n; k++ {
		p.Links = append(p.Links, navLink{Href: to(k), Label: fmt.Sprintf("%d to %d", (k-1)*most+1, min(n, k*most)), Current: k == part})
	}
	return p
}
