package water

// Rules of watering. A depth is mm over the ground.
//
// Source: common practice
const (
	perPlantSetOut = 0.5  // L that a plant is watered in with
	leastGiven     = 4.0  // mm: less is not worth the walk
	keepsMoist     = 0.6  // part of the ready surface water gone at which a seedbed is sprinkled
	restsDays      = 2    // days from one watering to the next, seedbeds apart
	MostAtOnce     = 35.0 // mm as given: more than this at once runs off, and is given in two
	LeastRest      = 10.0 // mm: a rest under it waits for the next watering
	inch           = 25   // mm: more is not let go missing, though deep roots would find it: the gardener's inch, a hand's span deep
)

// thirsty says whether a grown crop is due for water.
func thirsty(st State, ready float64) bool {
	return st.Missing >= max(leastGiven, min(ready, inch))
}

// waterIn is what ground is given on the day that something goes in, mm: what the depth of a seedling's roots lacks, and what plants set
// out are given by the plant.
func (t *step) waterIn(st State) float64 {
	return max(leastGiven, t.perArea, st.Missing*min(1, float64(sownDepth)/max(st.Root, float64(sownDepth))))
}

// wants is what ground wants on a morning, from the state before the day's rain, mm; 0: nothing yet.
//
//	ready  mm that may be missing before the crop suffers, as of yesterday
func (t *step) wants(c *Column, st State, ready float64) float64 {
	var in float64
	if t.seedbed && st.Dry >= keepsMoist*c.Ground.Ready {
		in = max(leastGiven, min(st.Dry, st.Missing))
	}
	if t.grown && thirsty(st, t.nearest*ready) {
		in = max(in, st.Missing)
	}
	return in
}

// given decides whether to water on a morning, and how much, mm.
//
//	since  days since the last watering
func (t *step) given(c *Column, st State, since int, ready float64) float64 {
	switch {
	case t.in:
		return t.waterIn(st)
	case !t.held || !t.waters:
		return 0
	case !t.seedbed && since < restsDays:
		return 0
	}
	if since < restsDays { // a seedbed is sprinkled, what grows beside the seed waits
		only := *t
		only.grown = false
		return only.wants(c, st, ready)
	}
	return t.wants(c, st, ready)
}
