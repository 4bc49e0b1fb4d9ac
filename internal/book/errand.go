package book

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"kailyard/internal/weather"
)

// weatherErrand is the name under which the errand to a weather service is kept.
const weatherErrand = "weather errand"

// KeepErrand keeps what a weather service was asked for, in the place of what it was before; nil
// when it is settled.
func (b *Book) KeepErrand(ctx context.Context, e *weather.Errand) error {
	body, err := json.Marshal(e)
	if err != nil {
		return fmt.Errorf("what was asked of the weather service cannot be kept: %w", err)
	}
	return b.shelve(ctx, func(tx *sql.Tx) error {
		if e == nil {
			_, err := tx.ExecContext(ctx, "DELETE FROM setting WHERE name = $1", weatherErrand)
			return err
		}
		_, err := tx.ExecContext(ctx, "INSERT INTO setting (name, value_json) VALUES ($1, $2) ON CONFLICT (name) DO UPDATE SET value_json = $2", weatherErrand, body)
		return err
	})
}

// Errand is what a weather service was asked for and has not been settled; nil where there is nothing.
func (b *Book) Errand(ctx context.Context) (e *weather.Errand, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		var body []byte
		err := tx.QueryRowContext(ctx, "SELECT value_json FROM setting WHERE name = $1", weatherErrand).Scan(&body)
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		if err != nil {
			return err
		}
		return json.Unmarshal(body, &e)
	})
	return e, err
}

// Reserve keeps a weather service for one fetch into the book of a path, in whichever kailyard it runs. The system
// lets go of it when the process ends. The service is its short name, name what people call it.
func Reserve(path, service, name string) (release func(), err error) {
	if err := writableFolder(path); err != nil {
		return nil, err
	}
	l, err := seize(path, path+"."+service+".lock", "", Options{}.clock()())
	if errors.Is(err, errHeld) {
		return nil, &Error{
			Kind:   Refused,
			Says:   fmt.Sprintf("another kailyard is fetching from %s into this book%s", name, l.holder()),
			Remedy: "wait until it is done, or stop it: the years that arrived stay in the book",
		}
	}
	if err != nil {
		return nil, err
	}
	return l.release, nil
}

// Reserve keeps a weather service for one fetch into this book.
func (b *Book) Reserve(service, name string) (release func(), err error) {
	return Reserve(b.path, service, name)
}
