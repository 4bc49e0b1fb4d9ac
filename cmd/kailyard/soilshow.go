package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

type soilShowCmd struct {
	Bed []string `arg:"" optional:"" help:"A bed, for its reasons and its record over the years; default: the whole garden."`
	seasonFlag
	choiceFlags
}

func (soilShowCmd) example() string { return "kailyard soil 'South bed'" }

// Run prints the soil book of the garden, or of a bed.
func (c *soilShowCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, reading, func(b *book.Book, told garden.Garden) error {
		choice, err := c.choice(told.Packages)
		if err != nil {
			return err
		}
		asked, err := bedsNamed(told, c.Bed)
		if err != nil {
			return err
		}
		g, err := e.ground(ctx, b, c.seasonFlag, choice)
		if err != nil {
			return err
		}
		beds := groundNamed(g, asked)
		if e.json {
			return e.printJSON(e.groundOf(g, told, beds))
		}
		e.printGround(g, told, beds, len(asked) > 0)
		return nil
	})
}

// printGround prints the soil book in words; of beds that were asked for, with all reasons.
func (e *env) printGround(g *season.Ground, told garden.Garden, beds []season.BedGround, whole bool) {
	e.printf("%s — the ground on %s, for season %s\n", g.Site.Name, g.Day.Long(), g.Season)
	if g.Site.Invented {
		e.printf("An invented garden, for show.\n")
	}
	for _, r := range g.Drift.Reasons {
		e.printf("%s\n", wrapped(r.Says, "", 92))
	}
	for _, a := range g.Alarms {
		e.printf("%s\n", wrapped("! "+alarmWords(a, told), "", 92))
	}
	for _, b := range beds {
		e.printBedGround(g, told, b, whole)
	}
	if !whole {
		e.printf("\nWHAT TO BUY\n")
		e.printBuy(g)
		if len(g.Advice) > 0 {
			e.printf("\nADVICE\n")
		}
		for _, says := range g.Advice {
			e.printf("%s\n", wrapped("• "+says, "  ", 92))
		}
		e.printf("\nRead one bed with its reasons and its record: kailyard soil BED\n")
	}
}

func (e *env) printBedGround(g *season.Ground, told garden.Garden, b season.BedGround, whole bool) {
	head := fmt.Sprintf("\n%s · %s", b.Bed.Name, g.Site.Units.Area(b.Bed.Area()))
	if b.Texture != "" {
		head += " · " + string(b.Texture)
		if b.TextureBy != 0 {
			head += " by the test of " + b.TextureBy.Long()
		}
	}
	e.printf("%s\n", head)
	say := func(format string, args ...any) { e.printf("%s\n", wrapped(fmt.Sprintf(format, args...), "  ", 92)) }
	r := b.Reaction
	if r.PH > 0 {
		say("pH about %.1f (%.1f–%.1f), %s; tested on %s; what grows here wants %.1f to %.1f", r.PH, r.Expected.Low, r.Expected.High, soil.PHWord(r.PH), r.Tested.Long(), r.Target.Low, r.Target.High)
	} else {
		say("never tested for pH; what grows here wants %.1f to %.1f", r.Target.Low, r.Target.High)
	}
	if b.Stopped != "" {
		say("Nothing is prescribed here: see the warning above.")
	} else {
		e.printDose(g, b)
		e.printFeeding(g, b, whole)
		e.printOrganic(g, b)
	}
	e.printHeld(g, b)
	for _, a := range b.Again {
		if a.Due || whole {
			when := "due on " + a.On.Long()
			if a.Due {
				when = "due now"
			}
			say("%s: %s. %s", a.What, when, a.Reason.Says)
		}
	}
	if whole {
		e.printWhole(g, told, b)
	}
}

// printHeld tells of each harvest that raw manure holds back beyond its day, and once of manure that still holds any.
func (e *env) printHeld(g *season.Ground, b season.BedGround) {
	for _, h := range b.Held {
		if h.Clash {
			e.printf("%s\n", wrapped(fmt.Sprintf("! %s (%s): %s", h.Crop.Name(), h.Planting.Key, h.Reason.Says), "  ", 92))
		}
	}
	var last civil.Date
	for _, y := range b.Years {
		for _, p := range y.Put {
			if p.Raw {
				last = max(last, p.Date)
			}
		}
	}
	if last != 0 && last.Add(soil.DaysTouching) > g.Day {
		e.printf("%s\n", wrapped(fmt.Sprintf("raw manure of %s: no harvest of what touches the soil before %s, of what hangs clear before %s; a plan keeps to it",
			last.Long(), last.Add(soil.DaysTouching).Long(), last.Add(soil.DaysClear).Long()), "  ", 92))
	}
}

// groundLine is a bed's ground in a line.
func groundLine(g *season.Ground, b season.BedGround) string {
	r := b.Reaction
	says := "never tested"
	if r.PH > 0 {
		says = fmt.Sprintf("pH about %.1f, %s", r.PH, soil.PHWord(r.PH))
	}
	switch {
	case b.Stopped != "":
		return says + "; nothing is given: ask the local health or extension office first"
	case r.Dose != nil:
		says += fmt.Sprintf("; %s of %s", g.Weighs.RoughMass(r.Dose.Mass), r.Dose.Material.Name)
	default:
		says += "; no lime, no sulfur"
	}
	if n := b.New; n != nil && !n.Broken {
		says += "; new ground: " + string(n.Way)
	}
	return says
}

func (e *env) printDose(g *season.Ground, b season.BedGround) {
	say := func(format string, args ...any) { e.printf("%s\n", wrapped(fmt.Sprintf(format, args...), "  ", 92)) }
	d := b.Reaction.Dose
	if d == nil {
		if b.Reaction.Verdict == soil.LiveWithIt {
			say("no lime and no sulfur: the ground holds lime, and its pH is lived with")
			return
		}
		say("no lime and no sulfur")
		return
	}
	depth := "left on top"
	if d.Depth > 0 {
		depth = "worked in to " + g.Site.Units.Depth(d.Depth)
	}
	spread := ""
	if d.Low < d.High {
		spread = "; sources span " + soil.Rates(g.Weighs, d.Low, d.High)
	}
	say("%s: %s (%s%s), %s, %s or more before sowing", d.Material.Name, g.Weighs.RoughMass(d.Mass), g.Weighs.Rate(d.Rate), spread, depth, counted(d.Before, "day"))
	for i, p := range d.Parts {
		say("  %d. %s from %s, best by %s: %s", i+1, g.Weighs.RoughMass(p.Mass), p.From.Long(), p.To.Long(), p.When)
	}
}

// lately is how many days ago a dressing may have been due and still be told, and how far ahead a starter is.
const lately = 14

// printFeeding prints the next dressings of a bed; of one that was asked for, all.
func (e *env) printFeeding(g *season.Ground, b season.BedGround, whole bool) {
	p := b.Feeding
	if p == nil {
		return
	}
	say := func(format string, args ...any) { e.printf("%s\n", wrapped(fmt.Sprintf(format, args...), "  ", 92)) }
	if len(p.Dressings) == 0 {
		say("no fertiliser: the ground has what these crops ask for")
	}
	shown := 0
	for i, d := range p.Dressings {
		when := d.Stage
		switch {
		case d.Date != 0 && d.Date < g.Day-lately:
			continue
		case d.Date != 0 && d.Date < g.Day:
			when += ", now (it was due on " + d.Date.Long() + ")"
		case d.Date != 0:
			when += ", " + d.Date.Long()
		}
		if shown++; shown > 2 && !whole {
			say("and %s more beside growing plants, each on its day: kailyard soil '%s'", counted(len(p.Dressings)-i, "feeding"), b.Bed.Name)
			break
		}
		if d.Planting != "" {
			when += " (" + d.Crop + ", " + d.Planting + ")"
		}
		var parts []string
		for _, part := range d.Parts {
			parts = append(parts, fmt.Sprintf("%s of %s (%s)", g.Weighs.RoughMass(part.Mass), part.Offer.Name, part.ByHand))
			if d.Date == 0 && d.Area > 0 { // no day and no place is known, so the rate is what counts
				parts[len(parts)-1] += ", " + g.Weighs.Rate(quantity.KilogramPerSquareMetre(float64(part.Mass)/float64(d.Area)))
			}
		}
		say("feed %s: %s", when, strings.Join(parts, ", "))
	}
	for _, s := range p.Starters {
		if !whole && s.Date > g.Day+lately {
			continue
		}
		say("starter for %s (%s) on %s: %s of solution, %s of %s in all", s.Crop, s.Planting, s.Date.Long(), g.Site.Units.Volume(s.Solution), quantity.Plural(s.Tables, "level tablespoon"), s.Material)
	}
}

func (e *env) printOrganic(g *season.Ground, b season.BedGround) {
	o := b.Organic
	if o == nil || o.Due > g.Season.End() {
		return
	}
	how := "worked in"
	if o.Into == 0 {
		how = "left on top"
	}
	e.printf("%s\n", wrapped(fmt.Sprintf("%s: %s deep, %s: %s; due from %s", o.Name, soil.Layer(o.Depth, g.Site.Units), how, loadWords(o.Loads), o.Due.Long()), "  ", 92))
	for _, says := range o.Stead {
		e.printf("%s\n", wrapped("! "+says, "  ", 92))
	}
}

// loadWords is a volume in the loads it is fetched in: the few that come to no fewer than one.
func loadWords(loads []soil.Load) string {
	var words []string
	for _, l := range loads {
		if l.Exact >= 0.7 && len(words) < 3 {
			count := fmt.Sprintf("%d × %s", l.Whole, l.Unit)
			if strings.HasPrefix(l.Unit, "of ") {
				count = fmt.Sprintf("%d %s", l.Whole, l.Unit)
			}
			words = append(words, count)
		}
	}
	return strings.Join(words, ", or ")
}

// printWhole prints what is only shown of a bed that was asked for: fits, reasons, holes, and the record over the years.
func (e *env) printWhole(g *season.Ground, told garden.Garden, b season.BedGround) {
	e.printf("  Crops and the pH they want:\n")
	for _, f := range b.Fits {
		mark, word := " ", ""
		if f.Planned {
			mark = "*"
		}
		if f.Known {
			word = f.Word()
			if f.Yield < 1 {
				word += fmt.Sprintf(", about %.0f %% of the yield", 100*f.Yield)
			}
		}
		e.printf("   %s %-30s %.1f–%.1f  %s\n", mark, f.Crop.Name(), f.Low, f.High, word)
	}
	e.printf("  (* planned here)\n  Why:\n")
	why := func(reasons []garden.Reason) {
		for _, r := range reasons {
			text := "• " + r.Says
			if r.Source != "" {
				text += " [" + r.Source + "]"
			}
			e.printf("%s\n", wrapped(text, "    ", 92))
		}
	}
	why(b.Reaction.Reasons)
	if d := b.Reaction.Dose; d != nil {
		why(d.Reasons)
	}
	for _, d := range b.Reaction.Others {
		why(d.Reasons)
	}
	if b.Feeding != nil {
		why(b.Feeding.Reasons)
	}
	if b.Organic != nil {
		why(b.Organic.Reasons)
	}
	for _, h := range b.Holes {
		e.printf("%s\n", wrapped(h.Crop.Name()+" ("+h.Planting+"): "+h.Digging.Says, "    ", 92))
		why(h.Hole.Reason)
	}
	for _, says := range b.Reaction.Advice {
		e.printf("%s\n", wrapped("• "+says, "    ", 92))
	}
	for _, says := range groundCautions(b) {
		e.printf("%s\n", wrapped("! "+says, "    ", 92))
	}
	e.printYears(g, told, b)
}

// groundCautions are the cautions of all that a bed asks for, each once, what stops the work first.
func groundCautions(b season.BedGround) (all []string) {
	add := func(says ...string) {
		for _, one := range says {
			if !slices.Contains(all, one) {
				all = append(all, one)
			}
		}
	}
	for _, a := range b.Reaction.Alarms {
		add(a.Says)
	}
	if d := b.Reaction.Dose; d != nil {
		add(d.Cautions...)
	}
	if b.Feeding != nil {
		add(b.Feeding.Cautions...)
	}
	if b.Organic != nil {
		add(b.Organic.Cautions...)
	}
	if b.New != nil {
		add(b.New.Cautions...)
	}
	return all
}

// printYears prints what was tested and put on over the years.
func (e *env) printYears(g *season.Ground, told garden.Garden, b season.BedGround) {
	if len(b.Years) == 0 {
		e.printf("  Nothing is on record yet: tests and what is put on are kept from now on.\n")
		return
	}
	e.printf("  The record:\n")
	for _, y := range b.Years {
		e.printf("    %d\n", y.Year)
		for _, t := range b.Tests {
			if t.Test.Date.Year() == y.Year {
				e.printTest(t, told)
			}
		}
		for _, p := range y.Put {
			text := fmt.Sprintf("%s %s of %s", p.Date.Long(), amountWords(p.Amount, p.Volume, g.Weighs), p.Name)
			if p.Rate > 0 {
				text += ", " + g.Weighs.Rate(p.Rate)
			}
			if p.Depth > 0 {
				text += ", worked in to " + g.Site.Units.Depth(p.Depth)
			}
			e.printf("%s\n", wrapped(text, "      ", 92))
		}
	}
}
