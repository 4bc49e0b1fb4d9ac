package crop

// How fast hand work goes: one able person with hand tools, unhurried. Common practice, from memory; a garden's own journal will
// know better. Jobs tell their hours by it, and plans the hours of a week.
const (
	SetUpHours      = 0.15 // of every job: fetch, lay the line, put away
	DigAnHour       = 7.0  // m² dug one spade deep and raked
	LoosenAnHour    = 18.0 // m² loosened with fork or hoe after a crop, and raked
	DrillAnHour     = 45.0 // m of drill drawn, sown, closed
	SetOutAnHour    = 45.0 // plants set out and watered in
	SetsAnHour      = 150.0
	TubersAnHour    = 30.0
	CellsAnHour     = 150.0 // filled, sown, labelled
	ThinAnHour      = 15.0  // m of row
	EarthUpAnHour   = 25.0  // m of row
	StakesAnHour    = 12.0
	TrellisAnHour   = 8.0  // m of row
	ClearAnHour     = 15.0 // m² cleared
	TendAnHour      = 60.0 // m² hoed, watered, looked over; each week
	HardeningDayMin = 5.0  // minutes a day, out and in
)

// PickAnHour is how much a picker brings in, kg an hour, by the part eaten: light leaves and pods go slowly, roots and heads fast.
// Common practice, from memory.
func PickAnHour(part string) float64 {
	switch part {
	case "leaf", "pod", "seed":
		return 4
	case "fruit", "stalk", "spear":
		return 8
	case "head", "bulb":
		return 20
	}
	return 15
}

// How many seedlings a tray holds, about 28 by 54 cm, as trays are commonly divided; common practice, from memory.
const (
	potsInTray   = 18  // 9 cm pots: what hates its roots moved and grows large at once
	largeInTray  = 32  // large cells: what stays in long and is set out large
	smallInTray  = 72  // small cells
	sownInTray   = 300 // sown thick, and parted when set out
	seedsToPlant = 1.1 // a tenth more is raised than is set out, for losses
)

// Trays is how much of a tray of seedlings so many plants of the crop take from sowing to hardening off, spare ones included.
func (c *Crop) Trays(plants int) float64 {
	places := float64(smallInTray)
	switch c.Group {
	case Cucurbit, Corn:
		places = potsInTray
	case Nightshade:
		places = largeInTray
	case Allium:
		places = sownInTray
	}
	return seedsToPlant * float64(plants) / places
}
