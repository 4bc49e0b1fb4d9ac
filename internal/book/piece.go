package book

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

// KeepPiece keeps one year of weather as a service gave it, whole, in the place of what was asked
// before for that year.
func (b *Book) KeepPiece(ctx context.Context, p weather.Piece) error {
	if p.Service == "" || p.Place == "" {
		return &Error{Kind: Refused, Says: "a piece of weather needs its service and its place"}
	}
	record := p.Record
	if record == nil {
		record = &weather.Record{}
	}
	for i, d := range record.Days {
		if d.Date.Year() != p.Year || d.Date != record.Days[0].Date.Add(i) {
			return &Error{Kind: Refused, Says: fmt.Sprintf("%s does not belong where it stands in the weather of %d", d.Date, p.Year)}
		}
	}
	station, notes, err := packAbout(record)
	if err != nil {
		return err
	}
	var first, days any // null where the service has nothing
	if len(record.Days) > 0 {
		first, days = record.Days[0].Date.String(), packDays(record.Days)
	}
	return b.shelve(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `
			INSERT INTO weather_piece (service, place, year, asked_on, until_day, source, station_json, notes_json, first_day, days)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)
			ON CONFLICT (service, place, year) DO UPDATE SET asked_on = $4, until_day = $5, source = $6, station_json = $7,
				notes_json = $8, first_day = $9, days = $10`,
			p.Service, p.Place, p.Year, p.Asked.String(), p.Until.String(), record.Source, station, notes, first, days)
		return err
	})
}

// Pieces are the years the book has from a service for a place, in order.
func (b *Book) Pieces(ctx context.Context, service, place string) (all []weather.Piece, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		all, err = each(ctx, tx, func(scan func(...any) error) (weather.Piece, error) {
			p, err := scanPiece(scan)
			p.Service, p.Place = service, place
			return p, err
		}, `SELECT year, asked_on, until_day, source, station_json, notes_json, first_day, days
			FROM weather_piece WHERE service = $1 AND place = $2 ORDER BY year`, service, place)
		return err
	})
	return all, err
}

func scanPiece(scan func(...any) error) (p weather.Piece, err error) {
	var asked, until string
	var first sql.NullString
	var station, notes, days []byte
	r := &weather.Record{Origin: weather.Measured}
	if err = scan(&p.Year, &asked, &until, &r.Source, &station, &notes, &first, &days); err != nil {
		return p, err
	}
	if p.Asked, err = civil.Parse(asked); err != nil {
		return p, err
	}
	if p.Until, err = civil.Parse(until); err != nil || !first.Valid {
		return p, err
	}
	if err = unpackAbout(r, station, notes); err != nil {
		return p, err
	}
	from, err := civil.Parse(first.String)
	if err != nil {
		return p, err
	}
	r.Days, err = unpackDays(from, days)
	p.Record = r
	return p, err
}

// Fetched is what the book has from every service and place.
func (b *Book) Fetched(ctx context.Context) (all []weather.Fetched, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		_, err := each(ctx, tx, func(scan func(...any) error) (none struct{}, err error) {
			var s weather.Fetched
			var y weather.FetchedYear
			var asked, until string
			var station, days []byte
			if err = scan(&s.Service, &s.Place, &y.Year, &asked, &until, &station, &days); err != nil {
				return none, err
			}
			if n := len(all); n == 0 || all[n-1].Service != s.Service || all[n-1].Place != s.Place {
				all = append(all, s)
			}
			last := &all[len(all)-1]
			if y.Asked, err = civil.Parse(asked); err != nil {
				return none, err
			}
			if y.Until, err = civil.Parse(until); err != nil {
				return none, err
			}
			if y.Days = len(days) / dayBytes; y.Days > 0 {
				y.NoTemperature = withoutTemperature(days)
				err = json.Unmarshal(station, &last.Station)
			}
			last.Years = append(last.Years, y)
			return none, err
		}, "SELECT service, place, year, asked_on, until_day, station_json, days FROM weather_piece ORDER BY service, place, year")
		return err
	})
	return all, err
}

// withoutTemperature counts the packed days that have no temperature.
func withoutTemperature(packed []byte) (n int) {
	for i := 0; i < len(packed); i += dayBytes {
		if packed[i]&flagTemp == 0 {
			n++
		}
	}
	return n
}

// DropFetched takes a service's years for a place out of the book. Records that were made of them stay.
func (b *Book) DropFetched(ctx context.Context, service, place string) error {
	return b.shelve(ctx, func(tx *sql.Tx) error {
		found, err := update(ctx, tx, "DELETE FROM weather_piece WHERE service = $1 AND place = $2", service, place)
		if err == nil && !found {
			return unknown("weather of %s for %s", service, place)
		}
		return err
	})
}
