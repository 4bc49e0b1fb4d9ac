package garden

import "kailyard/internal/crop"

// After is how far a planting has come once a journal entry of a kind tells of it. Seed sown under
// cover is not in the ground yet; what is over or lost stays so, and what is in the ground leaves
// it only by being cleared or failing.
func (s Status) After(kind EntryKind, way crop.Way) Status {
	if s != Planned && s != InGround && s != "" {
		return s
	}
	switch kind {
	case Cleared:
		return Over
	case Failed:
		return Lost
	case SetOut, Harvested:
		return InGround
	case Sowed, CameUp:
		if way != crop.SetOut {
			return InGround
		}
	}
	return s
}

// Ended says whether a planting is out of the ground: over or lost.
func (p Planting) Ended() bool { return p.Status == Over || p.Status == Lost }

// AsItStands is the planting with what still holds of it: of one that failed no harvest is expected,
// whatever the plan once hoped for.
func (p Planting) AsItStands() Planting {
	if p.Status == Lost {
		p.First, p.Last, p.Expect, p.Success, p.Years = Spread{}, Spread{}, 0, 0, 0
	}
	return p
}
