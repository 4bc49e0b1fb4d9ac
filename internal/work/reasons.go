package work

import (
	"fmt"

	"kailyard/internal/garden"
)

// spread writes a date over the weather years.
func spread(what string, s garden.Spread) garden.Reason {
	if s.P10 == s.P90 {
		return garden.Reason{Says: fmt.Sprintf("%s about %s.", what, s.P50.Short()), Rule: "weather years"}
	}
	return garden.Reason{
		Says: fmt.Sprintf("%s by %s in one year of ten, by %s in five, by %s in nine.", what, s.P10.Short(), s.P50.Short(), s.P90.Short()),
		Rule: "weather years",
	}
}

func (d *desk) emergeSpread(p *garden.Planting) []garden.Reason {
	if p.Emerge.P50 < p.Start {
		return nil
	}
	return []garden.Reason{spread("Up", p.Emerge)}
}

func (d *desk) firstSpread(p *garden.Planting) []garden.Reason {
	if p.First.P50 <= p.Start {
		return nil
	}
	return []garden.Reason{spread("First harvest", p.First)}
}

// goInWhy is the chance of success, the window, and the planting's own reasons.
func (d *desk) goInWhy(p *garden.Planting) []garden.Reason {
	var why []garden.Reason
	if p.Years > 0 {
		why = append(why, garden.Reason{
			Says: fmt.Sprintf("From this day it comes to harvest in %d of %d weather years.", p.Success, p.Years), Rule: "weather years",
		})
	}
	if w, ok := d.window(p); ok {
		why = append(why, garden.Reason{
			Says: fmt.Sprintf("It may go in from %s to %s, the days on which at least %.0f of 100 weather years succeed.", w.From.Short(), w.To.Short(), d.success*100),
			Rule: "weather years",
		})
	}
	return append(why, p.Reasons...)
}
