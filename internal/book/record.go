package book

import (
	"context"
	"database/sql"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// A record's days are kept a calendar year at a time, each day packed into dayBytes: a byte of
// flags and four float64, little-endian: least and greatest temperature in °C, rain in mm,
// radiation in MJ/m². Nothing is rounded.
const (
	dayBytes = 1 + 4*8

	flagTemp      = 1 << 0
	flagRain      = 1 << 1
	flagRadiation = 1 << 2
	flagFilled    = 1 << 3
)

// SaveRecord keeps a weather record in the place of the one the book had.
func (b *Book) SaveRecord(ctx context.Context, r *weather.Record) error {
	if r == nil || len(r.Days) == 0 {
		return &Error{Kind: Refused, Says: "the weather record has no days", Remedy: "give another record; the book keeps the one it had"}
	}
	for i, d := range r.Days {
		if d.Date != r.Days[0].Date.Add(i) {
			return &Error{Kind: Refused, Says: fmt.Sprintf("the weather record jumps to %s where %s should follow", d.Date, r.Days[0].Date.Add(i)), Remedy: "give a record with one entry for every day"}
		}
	}
	return b.write(ctx, func(tx *sql.Tx) error { return saveRecord(ctx, tx, r) })
}

func saveRecord(ctx context.Context, tx *sql.Tx, r *weather.Record) error {
	station, err := json.Marshal(r.Station)
	if err != nil {
		return fmt.Errorf("the weather station cannot be kept: %w", err)
	}
	notes, err := json.Marshal(r.Notes)
	if err != nil {
		return fmt.Errorf("the weather record's notes cannot be kept: %w", err)
	}
	if _, err := tx.ExecContext(ctx, `
		INSERT INTO weather (id, origin, source, station_json, notes_json) VALUES (1, $1, $2, $3, $4)
		ON CONFLICT (id) DO UPDATE SET origin = $1, source = $2, station_json = $3, notes_json = $4`,
		string(r.Origin), r.Source, station, notes); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM weather_year"); err != nil {
		return err
	}
	for days := r.Days; len(days) > 0; {
		year := days[0].Date.Year()
		n := min(len(days), int(civil.Of(year+1, 1, 1)-days[0].Date))
		if _, err := tx.ExecContext(ctx, "INSERT INTO weather_year (year, first_day, days) VALUES ($1, $2, $3)",
			year, days[0].Date.String(), packDays(days[:n])); err != nil {
			return err
		}
		days = days[n:]
	}
	return nil
}

// Record is the weather record the book has.
func (b *Book) Record(ctx context.Context) (r *weather.Record, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		r, err = record(ctx, tx)
		return err
	})
	return r, err
}

func record(ctx context.Context, tx *sql.Tx) (*weather.Record, error) {
	var r weather.Record
	var station, notes []byte
	err := tx.QueryRowContext(ctx, "SELECT origin, source, station_json, notes_json FROM weather").Scan(&r.Origin, &r.Source, &station, &notes)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, &Error{Kind: Unknown, Says: "the book has no weather record yet", Remedy: "give it one with kailyard weather FILE, or generated years of a built-in climate with kailyard weather --place ID"}
	}
	if err != nil {
		return nil, err
	}
	if err := errors.Join(json.Unmarshal(station, &r.Station), json.Unmarshal(notes, &r.Notes)); err != nil {
		return nil, err
	}
	years, err := each(ctx, tx, func(scan func(...any) error) (days []weather.Day, err error) {
		var first string
		var packed []byte
		if err = scan(&first, &packed); err != nil {
			return nil, err
		}
		from, err := civil.Parse(first)
		if err != nil {
			return nil, err
		}
		return unpackDays(from, packed)
	}, "SELECT first_day, days FROM weather_year ORDER BY year")
	for _, days := range years {
		r.Days = append(r.Days, days...)
	}
	return &r, err
}

func packDays(days []weather.Day) []byte {
	packed := make([]byte, 0, len(days)*dayBytes)
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
	}
	return packed
}

func unpackDays(first civil.Date, packed []byte) ([]weather.Day, error) {
	if len(packed)%dayBytes != 0 {
		return nil, &Error{Kind: Damaged, Says: fmt.Sprintf("the weather of %d in the book is damaged", first.Year()), Remedy: "give the weather record again with kailyard weather FILE"}
	}
	days := make([]weather.Day, len(packed)/dayBytes)
	for i := range days {
		one := packed[i*dayBytes:]
		number := func(n int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(one[1+8*n:])) }
		days[i] = weather.Day{
			Date: first.Add(i), HasTemp: one[0]&flagTemp != 0, HasRain: one[0]&flagRain != 0,
			HasRadiation: one[0]&flagRadiation != 0, Filled: one[0]&flagFilled != 0,
			Min: quantity.Celsius(number(0)), Max: quantity.Celsius(number(1)),
			Rain: quantity.Millimetre(number(2)), Radiation: quantity.MegajoulePerSquareMetre(number(3)),
		}
	}
	return days, nil
}
