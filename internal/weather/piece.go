package weather

import "kailyard/internal/civil"

// Piece is one calendar year of a place as a service gave it. Whoever keeps pieces keeps each whole
// or not at all.
type Piece struct {
	Service string     // the service's short name
	Place   string     // the station's ID, or the coordinates, as the service was asked
	Year    int        // the calendar year
	Asked   civil.Date // the day it was asked for
	Until   civil.Date // the last day asked for: the year's last, or earlier while it runs
	Record  *Record    // nil where the service has nothing for the year
}
