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
