package main

import (
	"fmt"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/growth"
	"kailyard/internal/season"
)

// coverNamed is the cover a person named; nil when none was.
func coverNamed(word string) (*crop.Protection, error) {
	if word == "" {
		return nil, nil
	}
	found, near := crop.FindProtection(word)
	if found == nil && len(near) > 0 {
		return nil, usageError{fmt.Sprintf("there is no cover %q; did you mean %s?", word, strings.Join(near, " or "))}
	} else if found == nil {
		return nil, usageError{fmt.Sprintf("there is no cover %q; the covers are %s", word, strings.Join(crop.ProtectionNames(), ", "))}
	}
	return found, nil
}

// coversNamed are the IDs of the covers a person named: one, "all", or none.
func coversNamed(word string) (ids []string, err error) {
	if strings.EqualFold(strings.TrimSpace(word), "all") {
		for _, p := range crop.Protections() {
			ids = append(ids, p.ID)
		}
		return ids, nil
	}
	one, err := coverNamed(word)
	if one != nil {
		ids = []string{one.ID}
	}
	return ids, err
}

// compare says of a window under a cover how it differs from those in the open.
func (v *windowJSON) compare(r *season.Result, t *growth.Table, w growth.Window, share float64) {
	if t.Option.Protection == nil {
		return
	}
	v.Under = t.Option.Protection.ID
	open := r.Table(v.CropID, t.Option.Method)
	windows := open.Windows(share)
	if earlier, later, meets := growth.Widens(w, windows); meets {
		v.Earlier, v.Later = &earlier, &later
		for _, o := range windows {
			if o.Meets(w.Span) {
				v.Sooner = season.Sooner(t, open, max(o.From, w.From))
				break
			}
		}
	}
}

// compared is the line that says so; empty in the open.
func (v windowJSON) compared() string {
	switch {
	case v.Under == "":
		return ""
	case v.Earlier == nil:
		return "  in the open there is no window at that time\n"
	}
	says := fmt.Sprintf("  against the open: opens %s, closes %s", shifted(-*v.Earlier), shifted(*v.Later))
	if v.Sooner != nil {
		says += "; from the first day of both, ready " + shifted(-*v.Sooner)
	}
	return says + "\n"
}

// shifted is a number of days said as earlier or later.
func shifted(days int) string {
	switch {
	case days == 0:
		return "the same day"
	case days < 0:
		return counted(-days, "day") + " earlier"
	}
	return counted(days, "day") + " later"
}

func counted(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}
