package work

import (
	"fmt"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Measures of a trench sown and filled; common practice: about 4 in deep and 6 in wide, the seed
// covered 1 in and the rest drawn in as the plants grow.
const (
	trenchDepth quantity.Metre = 4 * quantity.MetresPerInch
	trenchWidth quantity.Metre = 6 * quantity.MetresPerInch
	trenchCover quantity.Metre = 1 * quantity.MetresPerInch
)

// How the seed goes in, as crop.Practice.Sowing names it.
const (
	trenched  = "trench and fill"
	hilled    = "hill"
	stationed = "station"
	furrowed  = "furrow"
	scattered = "broadcast"
)

// goIn is the job of putting the crop into its ground.
func (d *desk) goIn(p *garden.Planting) Job {
	var j Job
	switch p.Way {
	case crop.SetOut:
		j = d.setOut(p)
	case crop.Set:
		j = d.plant(p)
	default:
		j = d.sow(p)
	}
	d.waterIn(&j, p)
	return j
}

// rowWords is the rows of a planting, counted in the trade's word.
func (d *desk) rowWords(c *crop.Crop, p *garden.Planting) string {
	n := max(1, p.Rows)
	if p.Way == crop.Sow {
		switch c.Practice.Sowing {
		case trenched:
			return count(n, "trench", "trenches")
		case furrowed:
			return count(n, "furrow", "furrows")
		case scattered:
			return count(n, "band", "bands")
		case hilled, stationed:
			return count(n, "row", "rows")
		}
		if c.Spacing.RowWidth > 0 {
			return count(n, "wide drill", "wide drills")
		}
		return count(n, "drill", "drills")
	}
	return count(n, "row", "rows")
}

// sow is sowing in the open ground.
func (d *desk) sow(p *garden.Planting) Job {
	c, m, s := d.crop(p), d.method(p), drill(d.crop(p), p, d.rowLength(p))
	j := d.job(p, Sow, p.Start, d.lastToGoIn(p))
	tail := fmt.Sprintf("%s of %s", d.rowWords(c, p), d.length(s.length))
	if placed(c) {
		one := "place"
		if c.Practice.Sowing == hilled {
			one = "hill"
		}
		tail += ", " + count(p.Plants, one, one+"s")
	}
	slow := d.partner(p)
	if p.Role == garden.Marker && slow != nil {
		tail = fmt.Sprintf("in the drills of the %s, to mark them", plural(d.crop(slow)))
		if d.partOf(p, slow) != "" {
			tail = "in part of " + strings.TrimPrefix(tail, "in ")
		}
	}
	j.Title = d.title("Sow", p, tail)
	j.How = append(j.How, d.placeSteps(p)...)
	if p.Role == garden.Marker && slow != nil {
		j.How = append(j.How, fmt.Sprintf("Drop %s every %s into the same drill, before it is closed: it is up within the week and shows where the %s will be, so that you can hoe.", seedWord(c), d.distance(s.apart), plural(d.crop(slow))))
	} else {
		j.How = append(j.How, d.openAndSow(c, p, m, s)...)
	}
	j.How = append(j.How, d.practice(p)...)
	if c.Practice.Inoculant {
		j.How = unless(j.How, "noculant", "Where this kind has not grown before, roll the damp seed in the right inoculant first.")
	}
	j.How = unless(j.How, "abel", "Label the row with the crop and the day.")
	if n := c.Emergence.GiveUp; n > 0 && p.Role != garden.Marker {
		j.How = append(j.How, fmt.Sprintf("If nothing shows by %s, sow again.", p.Start.Add(int(n+0.5)).Short()))
	}
	j.How = append(j.How, d.nextSowing(p)...)
	j.Weather = "a dry surface: sow into dry soil"
	if m.SoilAtLeast > 0 {
		j.Weather += fmt.Sprintf(", no colder than %s at seed depth in the morning", d.temperature(m.SoilAtLeast))
	}
	switch {
	case p.Role == garden.Marker:
		j.Hours = 0.25
	case c.Practice.Sowing == trenched:
		j.Hours = effort(float64(s.length)*float64(s.rows), trenchAnHour)
	case placed(c):
		j.Hours = effort(float64(p.Plants), stationsAnHour)
	default:
		j.Hours = effort(float64(s.length)*float64(s.rows), drillAnHour)
	}
	j.Why = d.goInWhy(p)
	j.Conditions = append(d.emergeSpread(p), d.firstSpread(p)...)
	j.Cautions = warned(c, Sow)
	if !mentions(j.Cautions, "dyed") {
		j.Cautions = append(j.Cautions, dressed)
	}
	return j
}

// openAndSow are the steps from the closed ground to the covered seed.
func (d *desk) openAndSow(c *crop.Crop, p *garden.Planting, m crop.Method, s drilled) []string {
	depth := d.depth(m.Depth)
	apart := ""
	if p.Rows > 1 {
		apart = ", " + d.distance(d.apart(p)) + " from middle to middle"
	}
	amount, mass := aboutSeeds(s.seeds)+" in all", ""
	if g := SeedMass(s.seeds, c.Seed.PerGram); d.weighed(g) {
		mass = " (" + d.seedMass(g) + ")"
		amount += mass
	}
	each := count(s.station, "seed", "seeds")
	switch c.Practice.Sowing {
	case trenched:
		width := c.Spacing.RowWidth
		if width <= 0 {
			width = trenchWidth
		}
		spread := fmt.Sprintf("Sow thickly over the whole floor, a seed every %s each way", d.distance(s.apart))
		if s.abreast < 2 {
			spread = fmt.Sprintf("Sow thickly along the floor, a seed every %s", d.distance(s.apart))
		}
		steps := []string{
			fmt.Sprintf("Take out %s with a flat floor, about %s deep and %s wide, %s long%s; leave the soil along the edge.", d.rowWords(c, p), d.distance(trenchDepth), d.distance(width), d.length(s.length), apart),
			spread + ": " + amount + ".",
			fmt.Sprintf("Cover with %s of soil and firm it. The rest is drawn in as the plants grow.", d.depth(trenchCover)),
		}
		return append(d.amongStanding(p), steps...)
	case hilled:
		if p.Plants == 1 {
			return []string{
				"Draw up one low, flat hill in the middle of its place.",
				fmt.Sprintf("Put %s in it, a hand apart and %s deep%s; they are thinned %s later.", each, depth, mass, bestOf(c, 1)),
			}
		}
		return []string{
			fmt.Sprintf("Mark %s%s in %s%s; draw up a low, flat hill at each.", count(p.Plants, "hill", "hills"), d.inRow(p), d.rowWords(c, p), apart),
			fmt.Sprintf("Put %s in each, a hand apart and %s deep: %s; they are thinned %s later.", each, depth, amount, bestOf(c, p.Plants)),
		}
	case scattered:
		return []string{fmt.Sprintf("Scatter evenly over the bed, %s, and rake in %s deep; firm with the back of the rake.", amount, depth)}
	}
	if placed(c) {
		if p.Plants == 1 {
			return []string{fmt.Sprintf("Put %s in the middle of its place, %s deep%s, cover and firm.", each, depth, mass)}
		}
		return []string{
			fmt.Sprintf("Stretch a line; mark %s%s in %s%s.", count(p.Plants, "place", "places"), d.inRow(p), d.rowWords(c, p), apart),
			fmt.Sprintf("Put %s in each, %s deep, cover and firm: %s.", each, depth, amount),
		}
	}
	spread := fmt.Sprintf("Sow %s a seed every %s: %s.", thinly(s.apart), d.distance(s.apart), amount)
	if s.abreast > 1 {
		spread = fmt.Sprintf("Sow %s of seed abreast, a seed every %s each way: %s.", count(s.abreast, "line", "lines"), d.distance(s.apart), amount)
	}
	kind := "Draw"
	if c.Spacing.RowWidth > 0 {
		kind = "Draw " + d.distance(c.Spacing.RowWidth) + "-wide"
	}
	steps := []string{
		fmt.Sprintf("Stretch a line. %s %s %s long and %s deep%s.", kind, d.rowWords(c, p), d.length(s.length), depth, apart),
		"If the ground is dust dry, water the bottom of the drill before the seed goes in, not the top after.",
		spread,
	}
	steps = append(steps, d.marking(p)...)
	return append(steps, "Draw the soil back over the seed and firm it with the back of the rake.")
}

// amongStanding says how a trench is opened where another crop still stands.
func (d *desk) amongStanding(p *garden.Planting) []string {
	for _, o := range d.shares(p) {
		if o.Start < p.Start && o.Clear > p.Start && o.Place.Meets(p.Place) {
			return []string{fmt.Sprintf("The %s (%s) still stand: open the trench between their rows only, and lay the soil where it buries none.", plural(d.crop(o)), o.Key)}
		}
	}
	return nil
}

// thinly says how to sow a drill by the distance of its seeds.
func thinly(apart quantity.Metre) string {
	if apart < 0.02 {
		return "thinly,"
	}
	return "singly,"
}

// marking tells the slow row of its marker, or to sow one.
func (d *desk) marking(p *garden.Planting) []string {
	c := d.crop(p)
	for _, o := range d.shares(p) {
		if o.Role == garden.Marker && o.Start == p.Start {
			oc, in := d.crop(o), "With it"
			if part := d.partOf(o, p); part != "" {
				in += ", " + part
			}
			return []string{fmt.Sprintf("%s, drop %s every %s in the same row (%s): it is up in a week and marks the row.", in, seedWord(oc), d.distance(drill(oc, o, d.rowLength(o)).apart), o.Key)}
		}
	}
	if c.Practice.SlowRow && !strings.Contains(strings.Join(c.Practice.Jobs, " "), "mark") {
		return []string{"It is slow to come up: a radish seed every hand's breadth in the same drill shows the row within the week."}
	}
	return nil
}

// partOf is where a planting lies that has only part of another's place: "from 4.75 m to 5.5 m along
// the bed"; empty when it has the whole.
func (d *desk) partOf(p, whole *garden.Planting) string {
	const slack = 0.05
	var parts []string
	if p.Place.AlongFrom > whole.Place.AlongFrom+slack || p.Place.AlongTo < whole.Place.AlongTo-slack {
		parts = append(parts, fmt.Sprintf("from %s to %s along the bed", d.mark(p.Place.AlongFrom), d.mark(p.Place.AlongTo)))
	}
	if p.Place.AcrossFrom > whole.Place.AcrossFrom+slack || p.Place.AcrossTo < whole.Place.AcrossTo-slack {
		parts = append(parts, fmt.Sprintf("from %s to %s across it", d.mark(p.Place.AcrossFrom), d.mark(p.Place.AcrossTo)))
	}
	return strings.Join(parts, ", ")
}

func seedWord(c *crop.Crop) string { return "a " + c.Kind + " seed" }

// placeSteps say where in the bed, and where against the crop it shares ground with.
func (d *desk) placeSteps(p *garden.Planting) []string {
	var steps []string
	if w := d.where(p); w != "" {
		steps = append(steps, w)
	}
	return append(steps, d.between(p)...)
}

// nextSowing tells of the next sowing of a succession.
func (d *desk) nextSowing(p *garden.Planting) []string {
	var next *garden.Planting
	for i := range d.plantings {
		o := &d.plantings[i]
		if o.CropID == p.CropID && o.Start > p.Start && o.Role != garden.Marker && (next == nil || o.Start < next.Start) {
			next = o
		}
	}
	if next == nil || next.Start.Since(p.Start) > 45 {
		return nil
	}
	return []string{fmt.Sprintf("The next of it follows on %s in %s.", next.Start.Short(), d.bedName(next))}
}

// setOut is setting out plants raised under cover.
func (d *desk) setOut(p *garden.Planting) Job {
	c, m := d.crop(p), d.method(p)
	j := d.job(p, SetOut, p.Start, d.lastToGoIn(p))
	tail := fmt.Sprintf("%s in %s", count(p.Plants, "plant", "plants"), d.rowWords(c, p))
	if p.Plants > max(1, p.Rows) {
		tail += ", " + d.distance(c.Spacing.InRow) + " apart"
	} else if p.Plants == 1 {
		tail = "one plant"
	}
	j.Title = d.title("Set out", p, tail)
	j.How = append(j.How, d.placeSteps(p)...)
	own := d.practice(p)
	if mentions(own, "moist") {
		j.How = append(j.How, "Water the plants an hour before.")
	} else {
		j.How = append(j.How, "Water the plants an hour before, and the ground too if it is not moist: sow into dry soil, set out into moist.")
	}
	j.How = append(j.How, d.lines(p))
	if !mentions(own, "lowest lea", "deep", "depth") {
		j.How = append(j.How, d.setDepth(c))
	}
	j.How = append(j.How, own...)
	if !mentions(own, "irm each", "irm them", "irm in", "irm the") {
		j.How = append(j.How, "Firm each in with the fingers till a tug on a leaf does not lift it.")
	}
	if c.Practice.Collar {
		j.How = unless(j.How, "collar", fmt.Sprintf("Put a collar of stiff card round each stem, %s into the soil and %s above it, against cutworms.", d.depth(0.03), d.depth(0.05)))
	}
	start, why := d.starter(p)
	switch {
	case start != "":
		j.How = append(j.How, start)
	case !mentions(own, "Water each", "ater in", "ater them", "ater the plants in", "ater well"):
		j.How = append(j.How, "Water them in.")
	}
	j.How = unless(j.How, "hade them", "Shade them from hot sun for two or three days if it is bright.")
	j.How = append(j.How, d.nextSowing(p)...)
	j.Weather = "a dull, still day or the evening; soil moist"
	if m.AirAtLeast != nil {
		j.Weather += fmt.Sprintf("; no night below %s in the forecast", d.temperature(*m.AirAtLeast))
	}
	j.Hours = effort(float64(p.Plants), setOutAnHour)
	j.Why = append(d.goInWhy(p), why...)
	j.Conditions = d.firstSpread(p)
	j.Cautions = warned(c, SetOut)
	return j
}

// lines is how set-out plants stand in their rows.
func (d *desk) lines(p *garden.Planting) string {
	if p.Plants == 1 {
		return fmt.Sprintf("It stands in the middle of its place, %s of row to itself.", d.length(d.rowLength(p)))
	}
	text := fmt.Sprintf("Stretch a line; %s of %s", d.rowWords(d.crop(p), p), d.length(d.rowLength(p)))
	if p.Plants > max(1, p.Rows) {
		text += fmt.Sprintf(", %s from plant to plant", d.distance(d.crop(p).Spacing.InRow))
	} else {
		text += ", a plant in each"
	}
	if p.Rows > 1 {
		text += fmt.Sprintf(" and %s from row to row", d.distance(d.apart(p)))
	}
	return text + "."
}

// inRow is the distance of places in their rows, " 84 cm apart"; empty where no row has two.
func (d *desk) inRow(p *garden.Planting) string {
	if p.Plants <= max(1, p.Rows) {
		return ""
	}
	return " " + d.distance(d.crop(p).Spacing.InRow) + " apart"
}

// setDepth is how deep a plant goes by its sort; common practice.
func (d *desk) setDepth(c *crop.Crop) string {
	switch {
	case c.Kind == "tomato":
		return "Set each deep, up to its lowest leaves: the buried stem roots."
	case c.Kind == "leek":
		return fmt.Sprintf("Make holes %s deep with a dibber, drop one plant in each and fill the hole with water, not with soil.", d.distance(0.15))
	case c.Group == crop.Brassica:
		return "Set each up to its lowest leaves, upright and firm."
	case c.Group == crop.Allium:
		return fmt.Sprintf("Set each with its roots straight down and the white no more than %s under.", d.depth(0.025))
	}
	return "Set each as deep as it stood in its cell, the root ball just covered."
}

// plant is planting sets, tubers, cloves, crowns and slips.
func (d *desk) plant(p *garden.Planting) Job {
	c, m := d.crop(p), d.method(p)
	w := wareOf(c, p.Way)
	j := d.job(p, Plant, p.Start, d.lastToGoIn(p))
	j.Title = d.title("Plant", p, fmt.Sprintf("%s in %s of %s", count(p.Plants, piece(w, 1), piece(w, 2)), d.rowWords(c, p), d.length(d.rowLength(p))))
	j.How = append(j.How, d.placeSteps(p)...)
	lines := fmt.Sprintf("%s of %s", sentence(d.rowWords(c, p)), d.length(d.rowLength(p)))
	if p.Rows > 1 {
		lines += ", " + d.distance(d.apart(p)) + " apart"
	}
	if p.Plants > max(1, p.Rows) {
		lines += ": one every " + d.distance(c.Spacing.InRow)
	} else {
		lines += ": one in the middle"
	}
	if h, ok := d.hole(p); ok {
		j.How = append(j.How, fmt.Sprintf("%s, in the holes dug for them: %s.", lines, h.Level))
		j.How = append(j.How, h.How[1:]...)
	} else {
		j.How = append(j.How, fmt.Sprintf("%s, %s deep%s.", lines, d.distance(m.Depth), setting(w)))
	}
	j.How = append(j.How, d.practice(p)...)
	j.How = unless(j.How, "abel", "Label the row with the crop and the day.")
	j.Weather = "soil dry enough to crumble"
	if m.SoilAtLeast > 0 {
		j.Weather += fmt.Sprintf(" and no colder than %s where they will lie", d.temperature(m.SoilAtLeast))
	}
	rate := setsAnHour
	if w == tubersWare || w == crownsWare || w == slipsWare {
		rate = tubersAnHour
	}
	j.Hours = effort(float64(p.Plants), rate)
	j.Why = d.goInWhy(p)
	j.Conditions = append(d.emergeSpread(p), d.firstSpread(p)...)
	j.Cautions = append([]string{"Dusty or mouldy sets: handle them outdoors, with gloves."}, warned(c, Plant)...)
	return j
}

// piece is one or more of a ware.
func piece(w ware, n int) string {
	word := string(w)
	if w == clovesWare {
		word = "cloves"
	}
	if n == 1 {
		return strings.TrimSuffix(word, "s")
	}
	return word
}

// setting is how a piece lies; common practice.
func setting(w ware) string {
	switch w {
	case setsWare:
		return " or with the tip just showing, root end down"
	case clovesWare:
		return ", root end down"
	case tubersWare:
		return ", eyes up"
	case crownsWare:
		return " to the buds, roots spread"
	case slipsWare:
		return ", up to the leaves"
	}
	return ""
}
