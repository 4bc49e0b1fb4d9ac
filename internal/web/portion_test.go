package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html/atom"

	"kailyard/internal/civil"
)

// The parts of a long list hold every item once, and the links lead to all of them.
func TestThePartsOfAListHoldItWhole(t *testing.T) {
	for _, n := range []int{0, 1, 23, 24, 25, 48, 100} {
		next := 0
		p := portionOf(1, n, 24, "Beds", bedsPart)
		for k := 1; k == 1 || k <= len(p.Links); k++ {
			q := portionOf(k, n, 24, "Beds", bedsPart)
			if q.From != next || q.To < q.From || q.To-q.From > 24 {
				t.Errorf("of %d, part %d is %d to %d", n, k, q.From, q.To)
			}
			next = q.To
		}
		if next != n {
			t.Errorf("of %d the parts hold %d", n, next)
		}
	}
}

// Every bed of a large garden is drawn on some page, and the index leads to it.
func TestEveryBedOfALargeGardenIsFound(t *testing.T) {
	h, _ := storySite(t, mustLarge(t), storyToday)
	drawn, index := map[string]string{}, map[string]string{}
	for _, path := range []string{"/beds", "/beds?part=2", "/beds?part=3", "/beds?part=4", "/beds?part=5"} {
		doc := parse(t, get(t, h, path))
		for _, s := range all(doc, atom.Section) {
			if id := attr(s, "id"); strings.HasPrefix(id, "bed-") {
				drawn[id] = path
			}
		}
		if path == "/beds?part=3" {
			for _, a := range all(doc, atom.A) {
				if to, id, ok := strings.Cut(attr(a, "href"), "#bed-"); ok {
					if to == "" {
						to = path
					}
					index["bed-"+id] = to
				}
			}
		}
		checkPage(t, path, doc)
	}
	if len(drawn) != 100 || len(index) != 100 {
		t.Fatalf("%d beds are drawn, %d in the index", len(drawn), len(index))
	}
	for id, path := range drawn {
		if index[id] != path {
			t.Errorf("%s is on %s, the index says %s", id, path, index[id])
		}
	}
	for path, want := range map[string]int{"/beds?part=x": 400, "/beds?part=-1": 400, "/beds?part=99": 200} {
		if w := get(t, h, path); w.Code != want {
			t.Errorf("%s: status %d, want %d", path, w.Code, want)
		}
	}
}

// A job's address leads to the part of the week that tells it, whichever that is.
func TestAJobsAddressLeadsToIt(t *testing.T) {
	now := mustLarge(t)
	h, _ := storySite(t, now, storyToday)
	week := civil.Of(2027, 6, 15).Monday()
	list, _ := ofWeek(now, civil.Span{From: week, To: week + 6}, nil)
	if len(list) <= 2*jobsAtOnce {
		t.Fatalf("only %d jobs in the week", len(list))
	}
	for i := 0; i < len(list); i += 17 {
		to := jobAddress(list[i], week)
		w := get(t, h, strings.Split(to, "#")[0])
		if w.Code != http.StatusOK || !strings.Contains(w.Body.String(), fmt.Sprintf("id=%q", jobAnchor(list[i]))) {
			t.Errorf("%s: status %d, the job is not there", to, w.Code)
		}
	}
	w := post(t, h, "/jobs/done", url.Values{"key": {list[jobsAtOnce].Key}, "week": {week.String()}})
	if w.Code != http.StatusSeeOther {
		t.Errorf("status %d", w.Code)
	}
}

// The plot's words tell every planting of its picture, part by part.
func TestThePlotsWordsTellEveryPlanting(t *testing.T) {
	now := mustLarge(t)
	h, _ := storySite(t, now, storyToday)
	told := map[string]bool{}
	for part := range 5 {
		doc := parse(t, get(t, h, fmt.Sprintf("/plot?day=2027-06-15&part=%d", part+1)))
		for _, row := range all(doc, atom.Tr) {
			for _, a := range all(row, atom.A) {
				told[attr(a, "href")] = true
			}
		}
	}
	for _, s := range standing(now, civil.Of(2027, 6, 15)) {
		if !told["/planting/"+s.p.Key] {
			t.Errorf("%s is not told", s.p.Key)
		}
	}
}
