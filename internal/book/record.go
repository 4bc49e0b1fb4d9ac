package book

import (
	"context"
	"database/sql"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// A record's days are kept a calendar year at a time, each day packed into dayBytes: a byte of
// flags and four float64, little-endian: least and greatest temperature in °C, rain in mm,
// radiation in MJ/m². Nothing is rounded. A year in which anything of the air was measured begins with
// the byte withAir, which is no day's flags, and each of its days is airBytes long: as above, then a
// byte that says what of the air was measured and six float64 in the order of weather.Air.
const (
	dayBytes = 1 + 4*8
	airBytes = dayBytes + 1 + 6*8
	withAir  = 0x82

	flagTemp      = 1 << 0
	flagRain      = 1 << 1
	flagRadiation = 1 << 2
	flagFilled    = 1 << 3
)

// SaveRecord keeps a weather record and uses it from now on. The records before it are kept too, and
// UseRecord goes back to one. A record that is kept already is used, not kept twice.
func (b *Book) SaveRecord(ctx context.Context, r *weather.Record) error {
	if r == nil || len(r.Days) == 0 {
		return &Error{Kind: Refused, Says: "the weather record has no days", Remedy: "give another record; the book keeps the one it had"}
	}
	for i, d := range r.Days {
		if d.Date != r.Days[0].Date.Add(i) {
			return &Error{Kind: Refused, Says: fmt.Sprintf("the weather record jumps to %s where %s should follow", d.Date, r.Days[0].Date.Add(i)), Remedy: "give a record with one entry for every day"}
		}
	}
	return b.write(ctx, func(tx *sql.Tx) error {
		id, err := b.saveRecord(ctx, tx, r)
		if err != nil {
			return err
		}
		return useRecord(ctx, tx, id)
	})
}

func (b *Book) saveRecord(ctx context.Context, tx *sql.Tx, r *weather.Record) (int64, error) {
	station, notes, err := packAbout(r)
	if err != nil {
		return 0, err
	}
	runs, err := saveRuns(ctx, tx, r.Days)
	if err != nil {
		return 0, err
	}
	alike, err := each(ctx, tx, func(scan func(...any) error) (id int64, err error) { return id, scan(&id) },
		"SELECT id FROM weather_record WHERE origin = $1 AND source = $2 AND station_json = $3 AND notes_json = $4 ORDER BY id DESC",
		string(r.Origin), r.Source, station, notes)
	if err != nil {
		return 0, err
	}
	for _, id := range alike {
		its, err := runsOf(ctx, tx, id)
		if err != nil || slices.Equal(its, runs) {
			return id, err
		}
	}
	id, err := insert(ctx, tx, "INSERT INTO weather_record (kept_at, origin, source, station_json, notes_json) VALUES ($1, $2, $3, $4, $5)",
		b.now().UTC().Format(time.RFC3339), string(r.Origin), r.Source, station, notes)
	if err != nil {
		return 0, err
	}
	for _, run := range runs {
		if _, err := tx.ExecContext(ctx, "INSERT INTO weather_record_run (record_id, year, run_id) VALUES ($1, $2, $3)", id, run.year, run.id); err != nil {
			return 0, err
		}
	}
	return id, nil
}

// run is one year of a record.
type run struct {
	year int
	id   int64
}

// saveRuns keeps the days a calendar year at a time, a year that is kept already only once.
func saveRuns(ctx context.Context, tx *sql.Tx, days []weather.Day) (runs []run, err error) {
	for len(days) > 0 {
		year := days[0].Date.Year()
		n := min(len(days), int(civil.Of(year+1, 1, 1)-days[0].Date))
		first, packed := days[0].Date.String(), packDays(days[:n])
		id, err := count(ctx, tx, "SELECT id FROM weather_run WHERE first_day = $1 AND days = $2", first, packed)
		if err == nil && id == 0 {
			id, err = insert(ctx, tx, "INSERT INTO weather_run (first_day, days) VALUES ($1, $2)", first, packed)
		}
		if err != nil {
			return nil, err
		}
		runs = append(runs, run{year, id})
		days = days[n:]
	}
	return runs, nil
}

func runsOf(ctx context.Context, tx *sql.Tx, record int64) ([]run, error) {
	return each(ctx, tx, func(scan func(...any) error) (r run, err error) { return r, scan(&r.year, &r.id) },
		"SELECT year, run_id FROM weather_record_run WHERE record_id = $1 ORDER BY year", record)
}

// Record is the weather record in use.
func (b *Book) Record(ctx context.Context) (r *weather.Record, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		id, err := count(ctx, tx, "SELECT record_id FROM weather_in_use")
		if err != nil {
			return err
		}
		if id == 0 {
			return &Error{Kind: Unknown, Says: "the book has no weather record yet", Remedy: "give it one with kailyard weather FILE or kailyard weather --from SERVICE, or generated years of a built-in climate with kailyard weather --place ID"}
		}
		r, err = recordOf(ctx, tx, id)
		return err
	})
	return r, err
}

func recordOf(ctx context.Context, tx *sql.Tx, id int64) (*weather.Record, error) {
	var r weather.Record
	var station, notes []byte
	err := tx.QueryRowContext(ctx, "SELECT origin, source, station_json, notes_json FROM weather_record WHERE id = $1", id).Scan(&r.Origin, &r.Source, &station, &notes)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, unknown("weather record %d", id)
	}
	if err != nil {
		return nil, err
	}
	if err := unpackAbout(&r, station, notes); err != nil {
		return nil, err
	}
	years, err := each(ctx, tx, scanDays, `
		SELECT first_day, days FROM weather_record_run JOIN weather_run ON weather_run.id = run_id WHERE record_id = $1 ORDER BY year`, id)
	for _, days := range years {
		r.Days = append(r.Days, days...)
	}
	return &r, err
}

// packAbout writes what a record says apart from its days.
func packAbout(r *weather.Record) (station, notes []byte, err error) {
	if station, err = json.Marshal(r.Station); err != nil {
		return nil, nil, fmt.Errorf("the weather station cannot be kept: %w", err)
	}
	if notes, err = json.Marshal(r.Notes); err != nil {
		return nil, nil, fmt.Errorf("the weather record's notes cannot be kept: %w", err)
	}
	return station, notes, nil
}

func unpackAbout(r *weather.Record, station, notes []byte) error {
	return errors.Join(json.Unmarshal(station, &r.Station), json.Unmarshal(notes, &r.Notes))
}

func scanDays(scan func(...any) error) ([]weather.Day, error) {
	var first string
	var packed []byte
	if err := scan(&first, &packed); err != nil {
		return nil, err
	}
	from, err := civil.Parse(first)
	if err != nil {
		return nil, err
	}
	return unpackDays(from, packed)
}

func packDays(days []weather.Day) []byte {
	packed := make([]byte, 0, len(days)*dayBytes)
	air := slices.ContainsFunc(days, func(d weather.Day) bool { return d.Air.Has != 0 })
	if air {
		packed = append(make([]byte, 0, 1+len(days)*airBytes), withAir)
	}
	for _, d := range days {
		var flags byte
		for bit, set := range map[byte]bool{flagTemp: d.HasTemp, flagRain: d.HasRain, flagRadiation: d.HasRadiation, flagFilled: d.Filled} {
			if set {
				flags |= bit
			}
		}
		packed = append(packed, flags)
		for _, v := range [4]float64{float64(d.Min), float64(d.Max), float64(d.Rain), float64(d.Radiation)} {
			packed = binary.LittleEndian.AppendUint64(packed, math.Float64bits(v))
		}
		if air {
			packed = append(packed, byte(d.Air.Has))
			for _, v := range d.Air.Values() {
				packed = binary.LittleEndian.AppendUint64(packed, math.Float64bits(v))
			}
		}
	}
	return packed
}

func unpackDays(first civil.Date, packed []byte) ([]weather.Day, error) {
	size := dayBytes
	if len(packed) > 0 && packed[0] == withAir {
		size, packed = airBytes, packed[1:]
	}
	if len(packed)%size != 0 {
		return nil, &Error{Kind: Damaged, Says: fmt.Sprintf("the weather of %d in the book is damaged", first.Year()), Remedy: "give the weather record again with kailyard weather FILE"}
	}
	days := make([]weather.Day, len(packed)/size)
	for i := range days {
		one := packed[i*size:]
		number := func(n int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(one[1+8*n:])) }
		days[i] = weather.Day{
			Date: first.Add(i), HasTemp: one[0]&flagTemp != 0, HasRain: one[0]&flagRain != 0,
			HasRadiation: one[0]&flagRadiation != 0, Filled: one[0]&flagFilled != 0,
			Min: quantity.Celsius(number(0)), Max: quantity.Celsius(number(1)),
			Rain: quantity.Millimetre(number(2)), Radiation: quantity.MegajoulePerSquareMetre(number(3)),
		}
		if size == airBytes {
			var values [6]float64
			for n := range values {
				values[n] = math.Float64frombits(binary.LittleEndian.Uint64(one[dayBytes+1+8*n:]))
			}
			days[i].Air = weather.AirOf(weather.AirParts(one[dayBytes]), values)
		}
	}
	return days, nil
}
