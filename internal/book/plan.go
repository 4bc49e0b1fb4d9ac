package book

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"kailyard/internal/plan"
)

// Kept is one plan of the book in a line.
type Kept struct {
	ID        int64
	Season    int // the year the season starts
	Made      time.Time
	Value     float64
	Plantings int
	Current   bool // the latest of its season
}

// SavePlan keeps a plan and gives its ID. It becomes the current plan of its season; earlier ones
// are kept.
func (b *Book) SavePlan(ctx context.Context, p *plan.Plan) (id int64, err error) {
	if p == nil {
		return 0, &Error{Kind: Refused, Says: "there is no plan to keep"}
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		id, err = b.savePlan(ctx, tx, *p)
		return err
	})
	return id, err
}

func (b *Book) savePlan(ctx context.Context, tx *sql.Tx, p plan.Plan) (int64, error) {
	plantings := p.Plantings
	p.Plantings = nil
	body, err := json.Marshal(p)
	if err != nil {
		return 0, fmt.Errorf("the plan cannot be kept: %w", err)
	}
	id, err := insert(ctx, tx, "INSERT INTO plan (season, made_at, value, plan_json) VALUES ($1, $2, $3, $4)",
		p.Season.Year(), b.now().UTC().Format(time.RFC3339), p.Value, body)
	if err != nil {
		return 0, err
	}
	for i, one := range plantings {
		known, err := count(ctx, tx, "SELECT count(*) FROM bed WHERE id = $1", one.BedID)
		if err != nil {
			return 0, err
		}
		if known == 0 {
			return 0, unknown("bed %d, in which the plan puts %s", one.BedID, one.Key)
		}
		if one.Status, err = carried(ctx, tx, one); err != nil {
			return 0, err
		}
		body, err := packed(one)
		if err != nil {
			return 0, err
		}
		if _, err := tx.ExecContext(ctx, `
			INSERT INTO planting (plan_id, position, key, bed_id, crop_id, start_day, status, pinned, planting_json)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
			id, i+1, one.Key, one.BedID, one.CropID, one.Start.String(), string(one.Status), one.Pinned, body); err != nil {
			return 0, err
		}
	}
	return id, nil
}

// Plan is the current plan of the season that starts in a year, nil where there is none.
func (b *Book) Plan(ctx context.Context, season int) (p *plan.Plan, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		id, err := count(ctx, tx, "SELECT coalesce(max(id), 0) FROM plan WHERE season = $1", season)
		if err != nil || id == 0 {
			return err
		}
		p, err = planOf(ctx, tx, id)
		return err
	})
	return p, err
}

// PlanBefore is the current plan of the latest season before a year that has one, nil where none has.
func (b *Book) PlanBefore(ctx context.Context, season int) (p *plan.Plan, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		id, err := count(ctx, tx, "SELECT coalesce(max(id), 0) FROM plan WHERE season = (SELECT max(season) FROM plan WHERE season < $1)", season)
		if err != nil || id == 0 {
			return err
		}
		p, err = planOf(ctx, tx, id)
		return err
	})
	return p, err
}

// Keys are all keys that plantings of any plan have had.
func (b *Book) Keys(ctx context.Context) (keys []string, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		keys, err = each(ctx, tx, func(scan func(...any) error) (key string, err error) {
			err = scan(&key)
			return key, err
		}, "SELECT DISTINCT key FROM planting ORDER BY key")
		return err
	})
	return keys, err
}

// PlanOf is the plan with an ID, current or not.
func (b *Book) PlanOf(ctx context.Context, id int64) (p *plan.Plan, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		p, err = planOf(ctx, tx, id)
		return err
	})
	return p, err
}

func planOf(ctx context.Context, tx *sql.Tx, id int64) (*plan.Plan, error) {
	var body []byte
	err := tx.QueryRowContext(ctx, "SELECT plan_json FROM plan WHERE id = $1", id).Scan(&body)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, unknown("plan %d", id)
	}
	if err != nil {
		return nil, err
	}
	var p plan.Plan
	if err := json.Unmarshal(body, &p); err != nil {
		return nil, fmt.Errorf("plan %d cannot be read: %w", id, err)
	}
	p.Plantings, err = each(ctx, tx, scanPlanting, plantingColumns+"FROM planting WHERE plan_id = $1 ORDER BY position", id)
	return &p, err
}

// Plans are all plans of the book, the newest first.
func (b *Book) Plans(ctx context.Context) (all []Kept, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		all, err = each(ctx, tx, func(scan func(...any) error) (k Kept, err error) {
			var made string
			if err = scan(&k.ID, &k.Season, &made, &k.Value, &k.Plantings, &k.Current); err != nil {
				return k, err
			}
			k.Made, err = time.Parse(time.RFC3339, made)
			return k, err
		}, `SELECT id, season, made_at, value, (SELECT count(*) FROM planting WHERE plan_id = plan.id),
				id = (SELECT max(id) FROM plan AS p WHERE p.season = plan.season)
			FROM plan ORDER BY id DESC`)
		return err
	})
	return all, err
}
