package crop

// Catalogue is a set of crops, found by ID, kind or alias.
type Catalogue struct{ crops []*Crop }

// Default is the embedded catalogue. It is checked whole by a test; a bad embedded file is a
// programmer's error and panics.
func Default() *Catalogue { panic("crop helper writes this") }

// All are the crops by ID.
func (c *Catalogue) All() []*Crop { return c.crops }

// Find is the crop with an ID.
func (c *Catalogue) Find(id string) (*Crop, bool) { panic("crop helper writes this") }

// Match is every crop a person may mean by a word: an ID, a kind or an alias, letter case and
// plural aside. When nothing matches, near holds up to three similar names.
func (c *Catalogue) Match(word string) (found []*Crop, near []string) {
	panic("crop helper writes this")
}
