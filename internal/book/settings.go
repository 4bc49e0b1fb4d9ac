package book

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"kailyard/internal/plan"
)

// plannerSettings is the name under which the planner's settings are kept.
const plannerSettings = "planner"

// SaveSettings keeps the planner's settings.
func (b *Book) SaveSettings(ctx context.Context, s plan.Settings) error {
	if err := s.Validate(); err != nil {
		return err
	}
	body, err := json.Marshal(s)
	if err != nil {
		return fmt.Errorf("the settings cannot be kept: %w", err)
	}
	return b.write(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "INSERT INTO setting (name, value_json) VALUES ($1, $2) ON CONFLICT (name) DO UPDATE SET value_json = $2", plannerSettings, body)
		return err
	})
}

// Settings are the planner's settings: the defaults where none were kept, and for a setting that is
// newer than what was kept.
func (b *Book) Settings(ctx context.Context) (plan.Settings, error) {
	s := plan.DefaultSettings()
	err := b.read(ctx, func(tx *sql.Tx) error {
		var body []byte
		err := tx.QueryRowContext(ctx, "SELECT value_json FROM setting WHERE name = $1", plannerSettings).Scan(&body)
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		if err != nil {
			return err
		}
		return json.Unmarshal(body, &s)
	})
	return s, err
}
