package water

// Rules of watering. A depth is mm over the stand's ground.
//
// Source: common practice
const (
	perPlantSetOut = 0.5 // L that a plant is watered in with
	leastGiven     = 4.0 // mm: less is not worth the walk
	keepsMoist     = 0.6 // part of the ready surface water gone at which a seedbed is sprinkled
	restsDays      = 2   // days from one watering to the next, seedbeds apart
	inch           = 25  // mm: more is not let go missing, though deep roots would find it: the gardener's inch, a hand's span deep
)

// thirsty says whether a grown crop is due for water.
func thirsty(st State, ready float64) bool {
	return st.Missing >= max(leastGiven, min(ready, inch))
}

// given decides whether to water on a morning, from the state before the day's rain, and how much, mm.
//
//	day    of the stand, 0 when it goes in
//	since  days since the last watering
//	ready  mm that may be missing before it suffers, as of yesterday
func (s *Stand) given(c *Column, st State, day, since int, ready float64) float64 {
	up := int(s.Up - s.From)
	switch {
	case day == 0 && !s.Settled:
		in := max(leastGiven, st.Missing)
		if s.Up <= s.From && s.Area > 0 {
			in = max(in, perPlantSetOut*float64(s.Plants)/float64(s.Area))
		}
		return in
	case !s.Waters:
		return 0
	case day < up:
		if st.Dry >= keepsMoist*c.Ground.Ready {
			return max(leastGiven, st.Dry)
		}
		return 0
	case since < restsDays || !thirsty(st, ready):
		return 0
	}
	return st.Missing
}
