package book

// Told is the trouble in parts, for a page that shows the remedy apart: its kind, what happened, what
// to do.
func (e *Error) Told() (kind, says, remedy string) { return string(e.Kind), e.Says, e.Remedy }
