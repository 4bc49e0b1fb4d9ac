package book

import (
	"context"
	"database/sql"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// Append adds what happened to the journal and gives the entry's ID. The planting it tells of is
// marked by it: what was sowed is in the ground, what was cleared is over, what failed is lost. Nothing in the journal is ever
// changed; what was written wrongly is put right by a further entry.
func (b *Book) Append(ctx context.Context, entry garden.Entry) (id int64, err error) {
	if err := entry.Validate().Err(); err != nil {
		return 0, err
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		id, err = b.appendEntry(ctx, tx, entry)
		return err
	})
	return id, err
}

func (b *Book) appendEntry(ctx context.Context, tx *sql.Tx, e garden.Entry) (int64, error) {
	var bed any
	if e.BedID != 0 {
		n, err := count(ctx, tx, "SELECT count(*) FROM bed WHERE id = $1", e.BedID)
		if err != nil {
			return 0, err
		}
		if n == 0 {
			return 0, unknown("bed %d", e.BedID)
		}
		bed = e.BedID
	}
	if e.Material != "" {
		known, err := packages(ctx, tx)
		if err != nil {
			return 0, err
		}
		if err := soil.CheckMaterial(e.Material, known).Err(); err != nil {
			return 0, err
		}
		if err := tooMuch(ctx, tx, e); err != nil {
			return 0, err
		}
	}
	if e.Planting != "" {
		if err := follow(ctx, tx, e); err != nil {
			return 0, err
		}
	}
	id, err := insert(ctx, tx, "INSERT INTO journal (day, kind, bed_id, planting, amount_kg, text, written_at) VALUES ($1, $2, $3, $4, $5, $6, $7)",
		e.Date.String(), string(e.Kind), bed, e.Planting, float64(e.Amount), e.Text, b.now().UTC().Format(time.RFC3339))
	if err != nil {
		return id, err
	}
	if e.Material == "" {
		return id, saveWater(ctx, tx, id, e)
	}
	_, err = tx.ExecContext(ctx, "INSERT INTO treatment (entry_id, material, volume_l, depth_m) VALUES ($1, $2, $3, $4)",
		id, e.Material, float64(e.Volume), float64(e.Depth))
	return id, err
}

// follow marks the planting an entry tells of.
func follow(ctx context.Context, tx *sql.Tx, e garden.Entry) error {
	known, err := each(ctx, tx, scanPlanting, `
		SELECT id, 0, status, pinned, planting_json FROM standing WHERE key = $1
		UNION ALL
		SELECT id, plan_id, status, pinned, planting_json FROM planting
		WHERE key = $1 AND plan_id = (SELECT max(plan_id) FROM planting WHERE key = $1)`, e.Planting)
	if err != nil {
		return err
	}
	if len(known) == 0 {
		return unknown("planting %q", e.Planting)
	}
	if next := known[0].Status.After(e.Kind, known[0].Way); next != known[0].Status {
		return mark(ctx, tx, e.Planting, "status", string(next))
	}
	return nil
}

// Journal is what happened on the days of a span, oldest first and in the order of writing.
func (b *Book) Journal(ctx context.Context, span civil.Span) (entries []garden.Entry, err error) {
	const first, last = 1, 9999 // years that compare as text
	span.From, span.To = max(span.From, civil.Of(first, 1, 1)), min(span.To, civil.Of(last, 12, 31))
	err = b.read(ctx, func(tx *sql.Tx) error {
		entries, err = each(ctx, tx, scanEntry, selectEntry+`
			WHERE day >= $1 AND day <= $2 ORDER BY day, id`, span.From.String(), span.To.String())
		if err != nil {
			return err
		}
		return fillWater(ctx, tx, entries)
	})
	return entries, err
}

// selectEntry asks for what scanEntry reads.
const selectEntry = `
	SELECT id, day, kind, coalesce(bed_id, 0), planting, amount_kg, text, coalesce(material, ''), coalesce(volume_l, 0), coalesce(depth_m, 0)
	FROM journal LEFT JOIN treatment ON entry_id = id`

func scanEntry(scan func(...any) error) (e garden.Entry, err error) {
	var day string
	if err = scan(&e.ID, &day, &e.Kind, &e.BedID, &e.Planting, &e.Amount, &e.Text, &e.Material, &e.Volume, &e.Depth); err != nil {
		return e, err
	}
	e.Date, err = civil.Parse(day)
	return e, err
}
