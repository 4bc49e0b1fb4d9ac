package main

import (
	"fmt"
	"io"
	"sort"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// planWords prints a plan bed by bed, in the order the ground is used, after what must be known of its season.
func planWords(w io.Writer, r *season.Result, which string) {
	site := r.Garden.Site
	fmt.Fprintf(w, "%s — season %s\n", site.Name, r.Season)
	if site.Invented {
		fmt.Fprintln(w, "An invented garden, for show.")
	}
	if which != "" {
		fmt.Fprintln(w, wrapped(which, "", 92))
	}
	fmt.Fprintln(w, wrapped(basisWords(r), "", 92))
	reachWords(w, r)
	for _, a := range season.AlarmsOf(r.Garden, r.Season.End()) {
		fmt.Fprintf(w, "\n%s\n", wrapped("! "+alarmWords(a, r.Garden), "", 92))
	}
	fmt.Fprintf(w, "\nWHAT GOES WHERE\n")
	for _, b := range r.Garden.Beds {
		bedWords(w, r, b)
	}
	fmt.Fprintf(w, "\nWHAT THE TABLE GETS (mean of the weather years)\n")
	supplyWords(w, r)
	for _, n := range r.Plan.Notes {
		fmt.Fprintln(w, wrapped("• "+n.Says, "  ", 92))
	}
}

// basisWords says in a sentence what weather the plan rests on.
func basisWords(r *season.Result) string {
	if len(r.Years) == 0 {
		return ""
	}
	first, last := r.Years[0].Year, r.Years[len(r.Years)-1].Year
	if r.Generated() {
		return fmt.Sprintf("Rests on %d generated weather years (%s), not on measured ones: give the book a record with `kailyard weather FILE`.",
			len(r.Years), r.Record.Source)
	}
	return fmt.Sprintf("Rests on %d recorded weather years, %d–%d (%s, %s).", len(r.Years), first, last, r.Record.Station.Name, r.Record.Source)
}

func bedWords(w io.Writer, r *season.Result, b garden.Bed) {
	u := r.Garden.Site.Units
	fmt.Fprintf(w, "\n%s · %s × %s · %s of sun\n", b.Name, u.Length(b.Length), u.Length(b.Width), u.Hours(season.SunOf(r.Garden, r.Record, b)))
	var here []garden.Planting
	for _, p := range r.Plan.Plantings {
		if p.BedID == b.ID {
			here = append(here, p)
		}
	}
	sort.SliceStable(here, func(i, j int) bool { return here[i].Start < here[j].Start })
	if len(here) == 0 {
		fmt.Fprintln(w, "  nothing this season")
	}
	for _, p := range here {
		plantingWords(w, r, p)
	}
}

func plantingWords(w io.Writer, r *season.Result, p garden.Planting) {
	u := r.Garden.Site.Units
	if p.Status == garden.InGround {
		fmt.Fprintf(w, "  %-8s %s, standing: %s\n", p.Key, cropName(r, p.CropID), plantWords(p.Plants))
		return
	}
	if p.Status == garden.Lost {
		fmt.Fprintf(w, "  %-8s %s, failed: it went in on %s\n", p.Key, cropName(r, p.CropID), p.Start.Short())
		return
	}
	when := fmt.Sprintf("%s %s", verb(p.Way), p.Start.Short())
	if p.RaiseOn != nil {
		when = fmt.Sprintf("sow under cover %s, set out %s", p.RaiseOn.Short(), p.Start.Short())
	}
	fmt.Fprintf(w, "  %-8s %s%s\n", p.Key, cropName(r, p.CropID), underWords(p.Protection)+roleWords(p))
	fmt.Fprintf(w, "           %s; pick %s to %s; ground free %s\n", when, p.First.P50.Short(), p.Last.P50.Short(), p.Clear.Short())
	fmt.Fprintf(w, "           %s, %s, %s; about %s; %d years of %d\n",
		placeWords(r, p), rowWords(p.Rows), plantWords(p.Plants), u.Mass(p.Expect), p.Success, p.Years)
}

// placeWords says where in its bed a planting is: along it, and across where it takes part of the width.
func placeWords(r *season.Result, p garden.Planting) string {
	u := r.Garden.Site.Units
	words := fmt.Sprintf("from %s to %s along the bed", u.Length(p.Place.AlongFrom), u.Length(p.Place.AlongTo))
	if b, ok := r.Bed(p.BedID); ok && p.Place.Area() > 0 && p.Place.AcrossTo-p.Place.AcrossFrom < b.Width-0.01 {
		words += fmt.Sprintf(" and %s to %s across", u.Length(p.Place.AcrossFrom), u.Length(p.Place.AcrossTo))
	}
	return words
}

func plantWords(n int) string {
	if n == 1 {
		return "1 plant"
	}
	return fmt.Sprintf("%d plants", n)
}

// askedWords is what a want asks to be grown under; nothing where it leaves it to the planner.
func askedWords(under string) string {
	if under == garden.InTheOpen {
		return ", in the open"
	}
	return underWords(under)
}

// underWords is ", under row cover"; nothing in the open.
func underWords(cover string) string {
	if p, _ := crop.FindProtection(cover); p != nil {
		return ", under " + p.Under()
	}
	return ""
}

func rowWords(n int) string {
	if n == 1 {
		return "1 row"
	}
	return fmt.Sprintf("%d rows", n)
}

func verb(w crop.Way) string {
	switch w {
	case crop.SetOut:
		return "set out"
	case crop.Set:
		return "plant"
	}
	return "sow"
}

func roleWords(p garden.Planting) string {
	switch p.Role {
	case garden.Fast:
		return ", between " + p.Partner
	case garden.Marker:
		return ", marking the row of " + p.Partner
	}
	return ""
}

func supplyWords(w io.Writer, r *season.Result) {
	u := r.Garden.Site.Units
	for _, s := range r.Plan.Supply {
		if s.Weekless() {
			fmt.Fprintf(w, "  %-28s %-8s no week can have it%s\n", s.Want.Crop, s.Want.Basis, askedWords(s.Want.Under))
		} else {
			fmt.Fprintf(w, "  %-28s %-8s %9s of %9s  %3.0f %%%s\n", s.Want.Crop, s.Want.Basis, u.Mass(s.Expected), u.Mass(s.Asked), 100*s.Share(), askedWords(s.Want.Under))
		}
		if years := s.YearsSay(u); years != "" {
			fmt.Fprintln(w, "      "+years)
		}
		for _, why := range s.Short {
			fmt.Fprintln(w, wrapped(why.Says, "      ", 92))
		}
	}
}

// wrapped breaks text into lines of at most width runes, each behind the indent.
func wrapped(text, indent string, width int) string {
	var lines []string
	line := indent
	for _, word := range strings.Fields(strings.ReplaceAll(text, " °", "\a°")) { // a figure and its degrees stay together
		word = strings.ReplaceAll(word, "\a", " ")
		if n := len([]rune(line)); n > len(indent) && n+1+len([]rune(word)) > width {
			lines = append(lines, line)
			line = indent
		}
		if len(line) > len(indent) {
			line += " "
		}
		line += word
	}
	return strings.Join(append(lines, line), "\n")
}
