package book

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// wholeGarden stands in for a bed's ID where the whole garden's soil is kept.
const wholeGarden = 0

// theGround fills in tests, treatments, packages and heaps. A book of a schema before theirs has none.
func theGround(ctx context.Context, tx *sql.Tx, g *garden.Garden) error {
	has, err := hasGround(ctx, tx)
	if err != nil || !has {
		return err
	}
	if g.Tests, err = soilTests(ctx, tx); err != nil {
		return err
	}
	if g.Treatments, err = treatments(ctx, tx); err != nil {
		return err
	}
	if g.Packages, err = packages(ctx, tx); err != nil {
		return err
	}
	g.Heaps, err = heaps(ctx, tx)
	return err
}

// hasGround says whether the book's schema knows of the ground.
func hasGround(ctx context.Context, tx *sql.Tx) (bool, error) {
	n, err := count(ctx, tx, "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name IN ('ground', 'heap_log')")
	return n == 2, err
}

// saveGround keeps what is told of the soil of a bed, or of the whole garden.
func saveGround(ctx context.Context, tx *sql.Tx, bed int64, s garden.Soil) error {
	has, err := hasGround(ctx, tx)
	if err != nil || !has {
		return err
	}
	if bed != wholeGarden && s == (garden.Soil{}) {
		return forgetGround(ctx, tx, bed)
	}
	_, err = tx.ExecContext(ctx, `
		INSERT INTO ground (bed_id, texture, topsoil_m, state, drift, tilled_m, tool, bucket_l, weighs)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)
		ON CONFLICT (bed_id) DO UPDATE SET texture = $2, topsoil_m = $3, state = $4, drift = $5, tilled_m = $6, tool = $7, bucket_l = $8, weighs = $9`,
		bed, string(s.Texture), float64(s.Topsoil), string(s.State), string(s.Drift), float64(s.Tilled), string(s.Spit), float64(s.Bucket), s.Weighs.String())
	return err
}

// groundChoice is the name under which what the person will have put on their ground is kept among the settings: a book in which it was
// never told has none.
const groundChoice = "ground"

// choiceRow is it as it is kept.
type choiceRow struct {
	Natural bool   `json:"natural"`
	Lime    string `json:"lime"`
	Organic string `json:"organic"`
}

func saveChoice(ctx context.Context, tx *sql.Tx, s garden.Soil) error {
	body, err := json.Marshal(choiceRow{s.Natural, s.Lime, s.Organic})
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, "INSERT INTO setting (name, value_json) VALUES ($1, $2) ON CONFLICT (name) DO UPDATE SET value_json = $2", groundChoice, body)
	return err
}

func readChoice(ctx context.Context, tx *sql.Tx, s *garden.Soil) error {
	var body []byte
	err := tx.QueryRowContext(ctx, "SELECT value_json FROM setting WHERE name = $1", groundChoice).Scan(&body)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	var row choiceRow
	if err := json.Unmarshal(body, &row); err != nil {
		return err
	}
	s.Natural, s.Lime, s.Organic = row.Natural, row.Lime, row.Organic
	return nil
}

// forgetGround takes back what was told of a bed's soil: it is as the whole garden's.
func forgetGround(ctx context.Context, tx *sql.Tx, bed int64) error {
	has, err := hasGround(ctx, tx)
	if err != nil || !has {
		return err
	}
	_, err = tx.ExecContext(ctx, "DELETE FROM ground WHERE bed_id = $1", bed)
	return err
}

// grounds are what is told of the soil, by bed.
func grounds(ctx context.Context, tx *sql.Tx) (map[int64]garden.Soil, error) {
	has, err := hasGround(ctx, tx)
	if err != nil || !has {
		return nil, err
	}
	known := map[int64]garden.Soil{}
	_, err = each(ctx, tx, func(scan func(...any) error) (s garden.Soil, err error) {
		var bed int64
		var weighs string
		if err = scan(&bed, &s.Texture, &s.Topsoil, &s.State, &s.Drift, &s.Tilled, &s.Spit, &s.Bucket, &weighs); err != nil {
			return s, err
		}
		s.Weighs, err = quantity.ParseSystem(weighs)
		known[bed] = s
		return s, err
	}, "SELECT bed_id, texture, topsoil_m, state, drift, tilled_m, tool, bucket_l, weighs FROM ground")
	return known, err
}

// takeGround adds a description's tests, treatments, packages and heaps to the book's. What the book has already is
// not told a second time, and what the description leaves out stays.
func (b *Book) takeGround(ctx context.Context, tx *sql.Tx, g garden.Garden, ids map[int64]int64) error {
	has, err := hasGround(ctx, tx)
	if err != nil || !has {
		return err
	}
	onSale, err := packages(ctx, tx)
	if err != nil {
		return err
	}
	if err := knownGround(g, append(onSale, g.Packages...)); err != nil {
		return err
	}
	if err := b.takeTests(ctx, tx, g.Tests, ids); err != nil {
		return err
	}
	if err := takePackages(ctx, tx, g.Packages); err != nil { // first: treatments may name products by their labels
		return err
	}
	if err := b.takeTreatments(ctx, tx, g.Treatments, ids); err != nil {
		return err
	}
	return b.takeHeaps(ctx, tx, g.Heaps)
}

// knownGround refuses a description that names materials, products and feedstocks nothing is known of; onSale are the packages of
// the book and the description.
func knownGround(g garden.Garden, onSale []garden.Package) error {
	if err := notTaken("site", soil.CheckChoice(g.Site.Soil, onSale)); err != nil {
		return err
	}
	for i, p := range g.Packages {
		if err := notTaken(fmt.Sprintf("package %d", i+1), soil.CheckPackage(p)); err != nil {
			return err
		}
	}
	for _, h := range g.Heaps {
		if err := notTaken(fmt.Sprintf("heap %q", h.Name), soil.CheckHeap(h)); err != nil {
			return err
		}
	}
	return nil
}

// notTaken is why a part of a description is refused.
func notTaken(part string, ps garden.Problems) error {
	if len(ps) == 0 {
		return nil
	}
	return &Error{Kind: Refused, Says: "the garden cannot be taken in: " + part + ": " + ps[0].Says, Remedy: ps[0].Remedy}
}

func (b *Book) takeTreatments(ctx context.Context, tx *sql.Tx, described []garden.Treatment, ids map[int64]int64) error {
	known, err := treatmentsWhere(ctx, tx, "true") // withdrawn ones among those it has
	if err != nil {
		return err
	}
	sold, err := packages(ctx, tx)
	if err != nil {
		return err
	}
	for i, t := range described {
		if err := notTaken(fmt.Sprintf("treatment %d", i+1), soil.CheckMaterial(t.Material, sold)); err != nil {
			return err
		}
		t.EntryID, t.BedID = 0, ids[t.BedID]
		if takeOut(&known, func(k garden.Treatment) bool { k.EntryID = 0; return k == t }) {
			continue
		}
		if _, err := b.appendEntry(ctx, tx, t.Entry()); err != nil {
			return err
		}
	}
	return nil
}

// takeOut takes the first that is the same off a list, so that what was told twice is kept twice.
func takeOut[T any](list *[]T, same func(T) bool) bool {
	for i, one := range *list {
		if same(one) {
			*list = append((*list)[:i:i], (*list)[i+1:]...)
			return true
		}
	}
	return false
}
