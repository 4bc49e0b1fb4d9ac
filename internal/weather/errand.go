package weather

import "kailyard/internal/civil"

// Errand is what a person asked a service for. It is kept until its record is used or given up, so
// that a fetch goes on after a stop of any kind.
type Errand struct {
	Service   string     // the service's short name
	Latitude  float64    // degrees, north positive; of a service asked by coordinates
	Longitude float64    // degrees, east positive
	Station   string     // of a service asked by station
	Years     int        // whole years before the last one
	Until     int        // the last year wanted; 0: the running one
	Asked     civil.Date // the day it was asked for
	Brought   bool       // every year that the service has is there
}
