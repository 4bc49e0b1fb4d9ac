package weather

import (
	"bufio"
	"io"
	"strconv"
	"strings"
)

// WriteCSV writes a record in our own open form, which Read reads back: comment lines about the
// station, then date,tmin_c,tmax_c,rain_mm. A value that is not there is an empty field.
func (r *Record) WriteCSV(w io.Writer) error {
	b := bufio.NewWriter(w)
	line := func(parts ...string) { b.WriteString(strings.Join(parts, "") + "\n") }
	oneLine := strings.NewReplacer("\n", " ", "\r", " ")
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	for _, c := range [][2]string{{"station", r.Station.Name}, {"id", r.Station.ID}, {"source", r.Source}, {"origin", string(r.Origin)}} {
		if c[1] != "" {
			line("# ", c[0], ": ", oneLine.Replace(c[1]))
		}
	}
	if r.Station.Located {
		line("# latitude: ", number(r.Station.Latitude))
		line("# longitude: ", number(r.Station.Longitude))
	}
	if r.Station.Levelled {
		line("# elevation_m: ", number(float64(r.Station.Elevation)))
	}
	radiation := false
	for _, d := range r.Days {
		radiation = radiation || d.HasRadiation
	}
	header := "date,tmin_c,tmax_c,rain_mm"
	if radiation {
		header += ",radiation_mj_m2"
	}
	var air AirParts
	for _, d := range r.Days {
		air |= d.Air.Has
	}
	for part, name := range airColumns {
		if air&(1<<part) != 0 {
			header += "," + name
		}
	}
	line(header)
	for _, d := range r.Days {
		field := func(has bool, v float64) string {
			if !has {
				return ","
			}
			return "," + number(v)
		}
		row := d.Date.String() + field(d.HasTemp, float64(d.Min)) + field(d.HasTemp, float64(d.Max)) + field(d.HasRain, float64(d.Rain))
		if radiation {
			row += field(d.HasRadiation, float64(d.Radiation))
		}
		for part, v := range d.Air.Values() {
			if air&(1<<part) != 0 {
				row += field(d.Air.Has&(1<<part) != 0, v)
			}
		}
		line(row)
	}
	return b.Flush()
}
