package book

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// AddTest keeps a soil test and gives its ID. A test is never changed: one that was told wrongly is
// withdrawn and told again.
func (b *Book) AddTest(ctx context.Context, test garden.SoilTest) (id int64, err error) {
	if err := test.Validate().Err(); err != nil {
		return 0, err
	}
	if err := cannotBe(test); err != nil {
		return 0, err
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		id, err = b.addTest(ctx, tx, test)
		return err
	})
	return id, err
}

// cannotBe is why a test is refused that no ground and no laboratory could give. What is odd but may be true is kept.
func cannotBe(t garden.SoilTest) error {
	if err := soil.Impossible(t); err != nil {
		return &Error{Kind: Refused, Says: "the test cannot be kept: " + strings.ReplaceAll(err.Error(), "\n", "; "), Remedy: "compare it with the report"}
	}
	return nil
}

// WithdrawTest lets a soil test count no more. The book keeps it, marked.
func (b *Book) WithdrawTest(ctx context.Context, id int64) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		known, err := count(ctx, tx, "SELECT count(*) FROM soil_test WHERE id = $1 AND id NOT IN (SELECT test_id FROM soil_test_withdrawn)", id)
		if err != nil {
			return err
		}
		if known == 0 {
			return unknown("soil test %d", id)
		}
		_, err = tx.ExecContext(ctx, "INSERT INTO soil_test_withdrawn (test_id, withdrawn_at) VALUES ($1, $2)", id, b.stamp())
		return err
	})
}

// WithdrawnTests are the soil tests that count no more, by date.
func (b *Book) WithdrawnTests(ctx context.Context) (all []garden.SoilTest, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		all, err = testsWhere(ctx, tx, "id IN (SELECT test_id FROM soil_test_withdrawn)")
		return err
	})
	return all, err
}

func (b *Book) stamp() string { return b.now().UTC().Format(time.RFC3339) }

func (b *Book) addTest(ctx context.Context, tx *sql.Tx, t garden.SoilTest) (int64, error) {
	id, err := insert(ctx, tx, `
		INSERT INTO soil_test (day, kit, depth_m, ph, in_salt, buffer_ph, method, acidity, organic, cec, texture, salts, salts_in, lead, free_lime, lab, note, written_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18)`,
		t.Date.String(), t.Kit, float64(t.Depth), t.PH, t.Salt, t.Buffer, string(t.Method), t.Acidity, t.Organic, t.CEC, string(t.Texture),
		t.Salts, string(t.SaltsBy), t.Lead, t.FreeLime, t.Lab, t.Note, b.stamp())
	if err != nil {
		return 0, err
	}
	for i, bed := range t.Beds {
		known, err := count(ctx, tx, "SELECT count(*) FROM bed WHERE id = $1", bed)
		if err != nil {
			return 0, err
		}
		if known == 0 {
			return 0, unknown("bed %d", bed)
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO soil_test_bed (test_id, position, bed_id) VALUES ($1, $2, $3)", id, i, bed); err != nil {
			return 0, err
		}
	}
	for i, r := range t.Elements {
		_, err := tx.ExecContext(ctx, "INSERT INTO soil_test_reading (test_id, position, element, value, unit, class, extractor) VALUES ($1, $2, $3, $4, $5, $6, $7)",
			id, i, string(r.Element), r.Value, string(r.Unit), string(r.Class), string(r.Extractor))
		if err != nil {
			return 0, err
		}
	}
	return id, nil
}

// soilTests are the tests that count, by date. Beds that are no more are left out of them, and so is a test of such beds only.
func soilTests(ctx context.Context, tx *sql.Tx) ([]garden.SoilTest, error) {
	all, err := testsWhere(ctx, tx, "id NOT IN (SELECT test_id FROM soil_test_withdrawn)")
	if err != nil {
		return nil, err
	}
	now, err := beds(ctx, tx, false)
	if err != nil {
		return nil, err
	}
	var kept []garden.SoilTest
	for _, t := range all {
		whole := len(t.Beds) == 0
		t.Beds = slices.DeleteFunc(t.Beds, func(id int64) bool {
			return !slices.ContainsFunc(now, func(b garden.Bed) bool { return b.ID == id })
		})
		if whole || len(t.Beds) > 0 {
			kept = append(kept, t)
		}
	}
	return kept, nil
}

func testsWhere(ctx context.Context, tx *sql.Tx, which string) ([]garden.SoilTest, error) {
	tests, err := each(ctx, tx, scanTest, `
		SELECT id, day, kit, depth_m, ph, in_salt, buffer_ph, method, acidity, organic, cec, texture, salts, salts_in, lead, free_lime, lab, note
		FROM soil_test WHERE `+which+` ORDER BY day, id`)
	if err != nil {
		return nil, err
	}
	at := map[int64]*garden.SoilTest{}
	for i := range tests {
		at[tests[i].ID] = &tests[i]
	}
	_, err = each(ctx, tx, func(scan func(...any) error) (id int64, err error) {
		var bed int64
		if err = scan(&id, &bed); err == nil && at[id] != nil {
			at[id].Beds = append(at[id].Beds, bed)
		}
		return id, err
	}, "SELECT test_id, bed_id FROM soil_test_bed ORDER BY test_id, position")
	if err != nil {
		return nil, err
	}
	_, err = each(ctx, tx, func(scan func(...any) error) (id int64, err error) {
		var r garden.Reading
		if err = scan(&id, &r.Element, &r.Value, &r.Unit, &r.Class, &r.Extractor); err == nil && at[id] != nil {
			at[id].Elements = append(at[id].Elements, r)
		}
		return id, err
	}, "SELECT test_id, element, value, unit, class, extractor FROM soil_test_reading ORDER BY test_id, position")
	return tests, err
}

func scanTest(scan func(...any) error) (t garden.SoilTest, err error) {
	var day string
	err = scan(&t.ID, &day, &t.Kit, &t.Depth, &t.PH, &t.Salt, &t.Buffer, &t.Method, &t.Acidity, &t.Organic, &t.CEC, &t.Texture,
		&t.Salts, &t.SaltsBy, &t.Lead, &t.FreeLime, &t.Lab, &t.Note)
	if err != nil {
		return t, err
	}
	t.Date, err = civil.Parse(day)
	return t, err
}

// testsOfBed is how many soil tests name a bed.
func testsOfBed(ctx context.Context, tx *sql.Tx, bed int64) (int64, error) {
	has, err := hasGround(ctx, tx)
	if err != nil || !has {
		return 0, err
	}
	return count(ctx, tx, "SELECT count(*) FROM soil_test_bed WHERE bed_id = $1", bed)
}

// takeTests adds the tests of a description that the book does not have, withdrawn ones among those it has.
func (b *Book) takeTests(ctx context.Context, tx *sql.Tx, described []garden.SoilTest, ids map[int64]int64) error {
	known, err := testsWhere(ctx, tx, "true")
	if err != nil {
		return err
	}
	for i, t := range described {
		t.ID, t.Beds = 0, slices.Clone(t.Beds)
		for k, id := range t.Beds {
			t.Beds[k] = ids[id]
		}
		if takeOut(&known, func(k garden.SoilTest) bool { return sameTest(k, t) }) {
			continue
		}
		if err := cannotBe(t); err != nil { // asked of new tests only: what the book has it keeps
			return fmt.Errorf("soil_test %d: %w", i+1, err)
		}
		if _, err := b.addTest(ctx, tx, t); err != nil {
			return err
		}
	}
	return nil
}

// sameTest says whether two tests tell the same, whatever their IDs.
func sameTest(a, b garden.SoilTest) bool {
	return a.Date == b.Date && slices.Equal(a.Beds, b.Beds) && a.Kit == b.Kit && a.Depth == b.Depth && sameValue(a.PH, b.PH) && a.Salt == b.Salt &&
		sameValue(a.Buffer, b.Buffer) && a.Method == b.Method && sameValue(a.Acidity, b.Acidity) && slices.Equal(a.Elements, b.Elements) &&
		sameValue(a.Organic, b.Organic) && sameValue(a.CEC, b.CEC) && a.Texture == b.Texture && sameValue(a.Salts, b.Salts) && a.SaltsBy == b.SaltsBy &&
		sameValue(a.Lead, b.Lead) && sameValue(a.FreeLime, b.FreeLime) && a.Lab == b.Lab && a.Note == b.Note
}

func sameValue[T comparable](a, b *T) bool { return a == b || a != nil && b != nil && *a == *b }
