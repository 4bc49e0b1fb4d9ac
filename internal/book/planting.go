package book

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"kailyard/internal/garden"
)

const plantingColumns = "SELECT planting.id, plan_id, planting.status, planting.pinned, planting_json "

// scanPlanting reads a planting of a plan: the body as it was planned, status and pin as they are now.
func scanPlanting(scan func(...any) error) (p garden.Planting, err error) {
	var id, planID int64
	var status garden.Status
	var pinned bool
	var body []byte
	if err = scan(&id, &planID, &status, &pinned, &body); err != nil {
		return p, err
	}
	err = json.Unmarshal(body, &p)
	p.ID, p.PlanID, p.Status, p.Pinned = id, planID, status, pinned
	return p, err
}

// packed is a planting as the book keeps it, without what has columns of its own.
func packed(p garden.Planting) ([]byte, error) {
	p.ID, p.PlanID, p.Status, p.Pinned = 0, 0, "", false
	body, err := json.Marshal(p)
	if err != nil {
		return nil, fmt.Errorf("planting %s cannot be kept: %w", p.Key, err)
	}
	return body, nil
}

// standing are the plantings a plan must work around: those told by the person, and those of the
// plans that are in the ground or pinned. A key that both have is the person's.
func standing(ctx context.Context, tx *sql.Tx) ([]garden.Planting, error) {
	all, err := each(ctx, tx, func(scan func(...any) error) (garden.Planting, error) {
		p, err := scanPlanting(scan)
		p.PlanID = 0
		return p, err
	}, `SELECT id, 0, status, pinned, planting_json FROM standing
		WHERE status = 'in the ground' OR status = 'planned' AND pinned ORDER BY position, id`)
	if err != nil {
		return nil, err
	}
	planted, err := planted(ctx, tx)
	return append(all, planted...), err
}

// planted are the plantings of plans that are in the ground or pinned. Of each key the latest plan's
// word counts; a key the person has told of is theirs.
func planted(ctx context.Context, tx *sql.Tx) ([]garden.Planting, error) {
	return each(ctx, tx, scanPlanting, plantingColumns+`FROM planting
		WHERE (status = 'in the ground' OR status = 'planned' AND pinned)
			AND plan_id = (SELECT max(plan_id) FROM planting AS later WHERE later.key = planting.key)
			AND key NOT IN (SELECT key FROM standing)
		ORDER BY start_day, id`)
}

// SetStatus marks how far the planting with a key has come.
func (b *Book) SetStatus(ctx context.Context, key string, status garden.Status) error {
	switch status {
	case garden.Planned, garden.InGround, garden.Over, garden.Lost:
	default:
		return &Error{Kind: Refused, Says: fmt.Sprintf("%q is not how far a planting can have come", status), Remedy: `say "planned", "in the ground", "over" or "lost"`}
	}
	return b.write(ctx, func(tx *sql.Tx) error { return mark(ctx, tx, key, "status", string(status)) })
}

// SetPinned marks the planting with a key as wanted exactly so, or not.
func (b *Book) SetPinned(ctx context.Context, key string, pinned bool) error {
	return b.write(ctx, func(tx *sql.Tx) error { return mark(ctx, tx, key, "pinned", pinned) })
}

// mark sets a column of a planting in the latest plan that has it, and of what the person told stands.
func mark(ctx context.Context, tx *sql.Tx, key, column string, value any) error {
	inPlan, err := update(ctx, tx, "UPDATE planting SET "+column+` = $2
		WHERE key = $1 AND plan_id = (SELECT max(plan_id) FROM planting WHERE key = $1)`, key, value)
	if err != nil {
		return err
	}
	told, err := update(ctx, tx, "UPDATE standing SET "+column+" = $2 WHERE key = $1", key, value)
	if err == nil && !inPlan && !told {
		return unknown("planting %q", key)
	}
	return err
}

// addStanding keeps what the person told stands in the ground.
func addStanding(ctx context.Context, tx *sql.Tx, p garden.Planting, position int64) error {
	body, err := packed(p)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `
		INSERT INTO standing (position, key, bed_id, crop_id, status, pinned, planting_json) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
		position, p.Key, p.BedID, p.CropID, string(p.Status), p.Pinned, body)
	return err
}

// carried is the status a planting of a new plan takes over from the same planting of an earlier
// one, so that a plan made before something was marked does not unmark it.
func carried(ctx context.Context, tx *sql.Tx, p garden.Planting) (garden.Status, error) {
	if p.Status != garden.Planned && p.Status != "" {
		return p.Status, nil
	}
	var before garden.Status
	err := tx.QueryRowContext(ctx, `
		SELECT status FROM planting WHERE key = $1 AND bed_id = $2 AND crop_id = $3 AND start_day = $4 ORDER BY plan_id DESC LIMIT 1`,
		p.Key, p.BedID, p.CropID, p.Start.String()).Scan(&before)
	if errors.Is(err, sql.ErrNoRows) {
		return garden.Planned, nil
	}
	return before, err
}
