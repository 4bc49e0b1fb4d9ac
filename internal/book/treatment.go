package book

import (
	"context"
	"database/sql"
	"fmt"

	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// treatments are what the journal tells was put on the garden's beds and was not withdrawn.
func treatments(ctx context.Context, tx *sql.Tx) ([]garden.Treatment, error) {
	marked, err := count(ctx, tx, "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = 'treatment_withdrawn'")
	if err != nil {
		return nil, err
	}
	if marked == 0 { // a book of an older schema, opened to read
		return treatmentsWhere(ctx, tx, "true")
	}
	return treatmentsWhere(ctx, tx, "journal.id NOT IN (SELECT entry_id FROM treatment_withdrawn)")
}

func treatmentsWhere(ctx context.Context, tx *sql.Tx, which string) ([]garden.Treatment, error) {
	return each(ctx, tx, func(scan func(...any) error) (garden.Treatment, error) {
		e, err := scanEntry(scan)
		t, _ := e.Treatment()
		return t, err
	}, selectEntry+`
		WHERE kind = 'fed' AND material IS NOT NULL AND bed_id IN (SELECT bed.id FROM bed WHERE NOT bed.retired) AND `+which+` ORDER BY day, journal.id`)
}

// WithdrawTreatment lets what was put on a bed by a journal entry count no more. The entry stays, and a further one tells of it.
func (b *Book) WithdrawTreatment(ctx context.Context, entry int64) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		all, err := treatments(ctx, tx)
		if err != nil {
			return err
		}
		for _, t := range all {
			if t.EntryID != entry {
				continue
			}
			if _, err := tx.ExecContext(ctx, "INSERT INTO treatment_withdrawn (entry_id, withdrawn_at) VALUES ($1, $2)", entry, b.stamp()); err != nil {
				return err
			}
			_, err := b.appendEntry(ctx, tx, t.Withdrawal())
			return err
		}
		return unknown("treatment %d", entry)
	})
}

// tooMuch is why a treatment is refused that no ground is ever given. What the book has already it keeps.
func tooMuch(ctx context.Context, tx *sql.Tx, e garden.Entry) error {
	t, ok := e.Treatment()
	if !ok {
		return nil
	}
	all, err := beds(ctx, tx, false)
	if err != nil {
		return err
	}
	for _, bed := range all {
		if bed.ID != t.BedID {
			continue
		}
		if err := soil.TooMuch(t, bed).Err(); err != nil {
			return &Error{Kind: Refused, Says: fmt.Sprintf("what was put on %s cannot be kept: %v", bed.Name, err), Remedy: "check the amount and its unit"}
		}
	}
	return nil
}
