package growth

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/civil"
)

const reportHead = `# Windows against published calendars

Written by ` + "`KAILYARD_WINDOWS=write go test -run TestWindowsAgainstPublishedCalendars ./internal/growth`" + `; do not edit.

Each row of the planting lists below that has a weather record nearby is laid beside the window that the program
computes from the last thirty years of that record: the days on which a planting, going in on its day or in a late
year up to a week later, comes to harvest in 8 years of 10. The figure is the difference in days: ours later (+) or earlier (−)
than the printed day, 0 within a printed span. *Near* is within 14 days; within 15 where a list prints months.

- **opens**: our first day of the year; **closes**: the last day of that first window; **opens autumn**: the first
  window that opens after May; **last day**: the last start that is harvested before the year is out.
- Rows tied to the average frost use the date published for the district where there is one (eastern Illinois, 25 April,
  NASS-IL; Virginia's Piedmont, 25 April and 24 October, the middles of the days that VCE-426-331 gives with its chart), else
  the day after which half of the record's thirty years still have 0 °C.
- Virginia's autumn rule counts back the harvest too, of tender and hardy crops alike: there the last day is the last start
  whose short harvest is over by the average first frost.
- Oregon's chart begins in February: what it prints for that month may have begun before.
- Where a list does not name a sort, the early one of the catalogue stands for it; lettuce set out in Oregon is the heading
  kind, since the same list has leaf lettuce apart.

## By calendar

`

const reportWhy = `
## What was chosen with these tables in view

Expect less agreement elsewhere: these were set, or chosen among several, while these tables were at hand. None was set for one row.

- **A start must be worth its ground.** Of fruit and pods it must give a fortnight's picking in kind weather (half of the short
  harvest where that is less), growth in cool days counting for less; of leaves half of the short harvest in days. A crop
  from which warmth takes more than three fifths has failed. Half, the rounder figure, would shut the spring of Illinois to
  endive and Chinese cabbage, and all but a day of it to cauliflower, where lists grow them.
- **Long days count from when a plant is established**, five weeks of them, not four from when it is half grown: quick crops outran
  them, and winter radish was open in May.
- **Growing plants harden in short days only** (wholly up to 12 hours, not from 13): where the length of the day made no difference, spring
  openings came out a week early in Colorado.
- **Peas bear 24 °C** by their new source (85 °F by day); at 23 °C, from memory, two thirds of the years of Vermont failed on a knife's edge.
- **Figures of the catalogue replaced** by those of the tables they were said to come from: bases of lima bean and watermelon (ECOCROP), muskmelon
  (between ECOCROP and SWATPLUS); optima of lima bean, soybean and sweet corn (SWATPLUS); days of sweet corn (ILL-CORN), celery (FLA-CAL),
  endive and muskmelon (between their sources); the upper limit of peas, put as far above ECOCROP's as that of other crops.
- **Tried and dropped:** to let roots and leaves be harvested unfinished, from three quarters to nine tenths of the way, when real cold
  or dark stops them. Parsnip, celeriac and celery come right by it, but carrot, beet, kale, kohlrabi, leek and green onion go two to four
  weeks past their printed days. Light that slows growth only below 25 MJ/m²/d: four rows of 94 fewer. Fruit not slowed by light at all: one fewer.

## What disagrees, and why

- **Lists of one place contradict each other by two to four weeks.** Celery goes out on 15 April in upstate New York,
  two to three weeks before the last frost in Indiana, on it in Colorado and Utah. Potatoes are set on the last frost
  with the tomatoes in one New York list, a month before it in Indiana. Parsley and carrots wait for a fortnight before
  it in Utah though they stand more cold than peas, which go in six weeks before it.
- **Average frost is not one date.** The lists were made with averages of older records from open country. At Urbana
  they lie 12 days later than at the station in the town in the last thirty years, in Virginia's Piedmont 18 days.
- **The late list of New York is kinder to slow crops than to quick ones.** By its days and those of the catalogue, romaine and kale
  would be ripe from 20 September, celeriac in mid-October, endive at the end of it, parsnip in November, when nothing grows. Ours asks the
  same of all, eight years of ten: romaine and kale come 15 days later than printed, endive and celeriac 15 days earlier, parsnip 40, which
  is lifted small, or in spring.
- **Late lists are cautious with warm crops.** New York sows limas and soybeans and sets out melons and okra until 10 June. Set out
  later they still give a fortnight's picking in 8 years of 10, okra until early July, and little more. Cowpea, in turn, ripens in Ithaca in
  six years of ten by ours.
- **Recommended is not possible.** Virginia closes spring sowings of beet and setting-out of cabbage on the last frost, so that they
  ripen before the heat. Ours closes a window when heat spoils the crop or takes most of it; short of that the yield falls, and the planner
  prefers the days on which it is whole. Virginia's autumn rule wants tender crops picked a fortnight before the frost: beans, squash and
  cucumbers come out two to five weeks earlier than ours.
- **Winter is part of the season.** Oregon sows corn salad, turnips and mustard into September and cuts them through the winter; ours, told to
  be ready by the end of the year, stops three weeks sooner, and goes on with those that are cut in spring (corn salad until November).
- **Wet ground is not in the model.** In western Oregon's rainy winter the soil is warm enough in February; the chart waits for
  April with beet and lettuce, and has all herbs, dill too, in May. The same state's autumn list is two to three weeks earlier than what still ripens, for roots and heads of
  full size.
- **Frost-only tables end with the frost, not with the heat.** Endive and cauliflower sown by a frost rule in Illinois and Utah ripen into
  summer: their windows are short or shut in ours.
- **Where winters are mild the year opens in January.** What is set out in autumn lives, so that at Tallahassee, Lake City, San Antonio,
  Davis, El Paso, Tombstone and Safford ours is open in January or comes to it weeks earlier where the table of 1919 begins in February or March: its openings agree less than they did (72 % of rows, 78 % before).
- **The table of 1919** counts from killing frost as seen on plants, and its autumn dates let hardy crops (kale, lettuce, parsley, peas, spinach, turnip)
  stand through the winter of the warm side of each zone, while melons and okra are given up early. Its spring dates agree with ours;
  its autumn dates do not agree with today's lists either: peas until August where today's list of the same place
  sows nothing tender to frost after mid-July.
`

// report is doc/windows.md.
func (c *calendars) report(answers []answer, held, south string) string {
	var b strings.Builder
	b.WriteString(reportHead)
	b.WriteString("| calendar | source | rows | near | no day of ours | median | mean |\n|---|---|--:|--:|--:|--:|--:|\n")
	sets := tallied(answers, func(a answer) string { return a.set + " | " + a.source })
	for _, k := range sortedKeys(sets) {
		n := sets[k]
		fmt.Fprintf(&b, "| %s | %d | %.0f %% | %d | %+d | %+.1f |\n", k, n.rows, 100*n.share(), n.none, n.median(), n.mean())
	}
	sum := func(title string, in func(answer) bool) {
		n := tallied(answers, func(a answer) string {
			if in(a) {
				return title
			}
			return ""
		})[title]
		fmt.Fprintf(&b, "- %s: %d rows, **%.0f %%** near, median %+d days.\n", title, n.rows, 100*n.share(), n.median())
	}
	old := func(a answer) bool { return strings.HasPrefix(a.set, "USDA") }
	b.WriteString("\n")
	b.WriteString("The aim is 85 % of the edges dated to a day or a part of a month, the first line; beside it, every other way of counting:\n\n")
	sum("Dated to the day or a part of a month (New York, Oregon in autumn)", func(a answer) bool {
		return !a.months && (strings.HasPrefix(a.set, "New York") || strings.HasPrefix(a.set, "Oregon"))
	})
	sum("Dated to the month", func(a answer) bool { return a.months })
	sum("Openings told from the last frost", func(a answer) bool { return strings.HasSuffix(a.set, "last frost") && a.edge == opensSpring })
	sum("All but the table of 1919", func(a answer) bool { return !old(a) })
	sum("Openings of 1919", func(a answer) bool { return old(a) && a.edge == opensSpring })
	sum("Last days of 1919", func(a answer) bool { return old(a) && a.edge != opensSpring })
	sum("The whole table, every row of every list", func(answer) bool { return true })
	b.WriteString(held)
	b.WriteString(south)
	c.byCrop(&b, answers)
	b.WriteString(reportWhy)
	c.everyRow(&b, answers)
	c.rest(&b)
	return b.String()
}

// byCrop is the mean difference of each crop.
func (c *calendars) byCrop(b *strings.Builder, answers []answer) {
	b.WriteString("\n## By crop\n\nSpring openings of all calendars, and last days of all but that of 1919. Means leave out differences beyond 60 days.\n\n")
	b.WriteString("| crop | openings | near | median | mean | last days | near | median | mean |\n|---|--:|--:|--:|--:|--:|--:|--:|--:|\n")
	opens, lasts := tallied(answers, opensOf), tallied(answers, lastOf)
	ids := map[string]bool{}
	for k := range opens {
		ids[k] = true
	}
	for k := range lasts {
		ids[k] = true
	}
	cells := func(n *tally) string {
		if n == nil {
			return " | | | "
		}
		return fmt.Sprintf("%d | %.0f %% | %+d | %+.0f", n.rows, 100*n.share(), n.median(), n.mean())
	}
	for _, id := range sortedKeys(ids) {
		fmt.Fprintf(b, "| %s | %s | %s |\n", id, cells(opens[id]), cells(lasts[id]))
	}
}

// everyRow is each row of today's lists, and those of 1919 by zone and crop.
func (c *calendars) everyRow(b *strings.Builder, answers []answer) {
	set := ""
	for _, a := range answers {
		if strings.HasPrefix(a.set, "USDA") {
			continue
		}
		if a.set != set {
			set = a.set
			fmt.Fprintf(b, "\n## %s, %s\n\n| crop | how | edge | printed | ours | days |\n|---|---|---|---|---|--:|\n", a.set, a.station.name)
		}
		how := string(a.way)
		if a.indoors {
			how = "under cover"
		}
		ours, off := a.ours.Short(), fmt.Sprintf("%+d", a.off)
		if a.none != "" {
			ours, off = a.none, ""
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s | %s |\n", a.crop, how, a.edge, spanWords(a.from, a.to), ours, off)
	}
	b.WriteString("\n## The table of 1919\n\nDifferences in days by station, ours past or before the printed day or span; – where ours has no day. The map of its zones is lost: a station is put into the\nzone in whose range for snap beans its average last frost falls, and snap beans are left out.\n")
	var places []string
	zone := map[string]string{}
	byRow := map[string]map[string]answer{}
	for _, a := range answers {
		if !strings.HasPrefix(a.set, "USDA") {
			continue
		}
		if zone[a.station.name] == "" {
			zone[a.station.name] = strings.TrimPrefix(a.place, "zone ")
			places = append(places, a.station.name)
		}
		key := string(a.edge) + " | " + a.crop
		if byRow[key] == nil {
			byRow[key] = map[string]answer{}
		}
		byRow[key][a.station.name] = a
	}
	slices.SortFunc(places, func(x, y string) int { return strings.Compare(zone[x]+x, zone[y]+y) })
	b.WriteString("\n| edge | crop")
	for _, p := range places {
		fmt.Fprintf(b, " | %s (%s)", p, zone[p])
	}
	b.WriteString(" |\n|---|---" + strings.Repeat("|--:", len(places)) + "|\n")
	for _, key := range sortedKeys(byRow) {
		b.WriteString("| " + key)
		for _, p := range places {
			a, ok := byRow[key][p]
			switch {
			case !ok:
				b.WriteString(" | ")
			case a.none != "":
				b.WriteString(" | –")
			default:
				fmt.Fprintf(b, " | %+d", a.off)
			}
		}
		b.WriteString(" |\n")
	}
}

// rest is what was not compared, and the stations.
func (c *calendars) rest(b *strings.Builder) {
	b.WriteString("\n## Not compared\n\n")
	for _, k := range sortedKeys(c.left) {
		fmt.Fprintf(b, "- %s: %d\n", k, c.left[k])
	}
	b.WriteString("\n## Stations\n\n| station | latitude | half the years have 0 °C after | and again by |\n|---|--:|---|---|\n")
	for _, k := range sortedKeys(c.stations) {
		s := c.stations[k]
		last, first := "–", "–"
		if d, ok := s.spring(); ok {
			last = d.Short()
		}
		if d, ok := s.autumn(); ok {
			first = d.Short()
		}
		fmt.Fprintf(b, "| %s | %.2f | %s | %s |\n", s.name, s.latitude, last, first)
	}
}

func spanWords(from, to civil.Date) string {
	if from == to {
		return from.Short()
	}
	return from.Short() + " – " + to.Short()
}
