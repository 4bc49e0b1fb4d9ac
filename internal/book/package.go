package book

import (
	"context"
	"database/sql"
	"fmt"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// AddPackage keeps a size on sale and gives its ID.
func (b *Book) AddPackage(ctx context.Context, p garden.Package) (id int64, err error) {
	if err := append(p.Validate(), soil.CheckPackage(p)...).Err(); err != nil {
		return 0, err
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		id, err = addPackage(ctx, tx, p)
		return err
	})
	return id, err
}

// SavePackage changes the package with the given package's ID.
func (b *Book) SavePackage(ctx context.Context, p garden.Package) error {
	if err := append(p.Validate(), soil.CheckPackage(p)...).Err(); err != nil {
		return err
	}
	return b.write(ctx, func(tx *sql.Tx) error {
		if err := savePackage(ctx, tx, p); err != nil {
			return err
		}
		return labelsStand(ctx, tx)
	})
}

// RemovePackage takes a package out of those on sale. The book keeps it, marked.
func (b *Book) RemovePackage(ctx context.Context, id int64) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		found, err := update(ctx, tx, "UPDATE package SET retired = 1 WHERE id = $1 AND NOT retired", id)
		if err == nil && !found {
			return unknown("package %d", id)
		}
		if err != nil {
			return err
		}
		return labelsStand(ctx, tx)
	})
}

// labelsStand refuses a change after which nobody could tell what was put on the ground: a product known only by its label
// keeps a package with that label, and so does the lime chosen for the garden.
func labelsStand(ctx context.Context, tx *sql.Tx) error {
	known, err := packages(ctx, tx)
	if err != nil {
		return err
	}
	var ground garden.Soil
	if err := readChoice(ctx, tx, &ground); err != nil {
		return err
	}
	if ground.Lime != "" && len(soil.CheckChoice(garden.Soil{Lime: ground.Lime}, known)) > 0 {
		return &Error{
			Kind: Refused, Says: fmt.Sprintf("%q is the lime chosen for this garden, and this is the only package whose label tells what it neutralises", ground.Lime),
			Remedy: "choose another lime first, or keep the package and its label",
		}
	}
	put, err := treatments(ctx, tx)
	if err != nil {
		return err
	}
	for _, t := range put {
		if ps := soil.CheckMaterial(t.Material, known); len(ps) > 0 {
			return &Error{
				Kind: Refused, Says: fmt.Sprintf("the journal tells that %q was put on a bed on %s, and this is the only package with its label", t.Material, t.Date),
				Remedy: "keep the package",
			}
		}
	}
	return nil
}

func addPackage(ctx context.Context, tx *sql.Tx, p garden.Package) (int64, error) {
	return insert(ctx, tx, `
		INSERT INTO package (position, material, name, mass_kg, volume_l, price, n, p2o5, k2o, cce, fineness)
		VALUES ((SELECT coalesce(max(position), 0) + 1 FROM package), $1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
		p.Material, p.Name, float64(p.Mass), float64(p.Volume), p.Price, p.N, p.P2O5, p.K2O, p.CCE, p.Fineness)
}

func savePackage(ctx context.Context, tx *sql.Tx, p garden.Package) error {
	found, err := update(ctx, tx, `
		UPDATE package SET material = $2, name = $3, mass_kg = $4, volume_l = $5, price = $6, n = $7, p2o5 = $8, k2o = $9, cce = $10, fineness = $11
		WHERE id = $1 AND NOT retired`,
		p.ID, p.Material, p.Name, float64(p.Mass), float64(p.Volume), p.Price, p.N, p.P2O5, p.K2O, p.CCE, p.Fineness)
	if err == nil && !found {
		return unknown("package %d", p.ID)
	}
	return err
}

func packages(ctx context.Context, tx *sql.Tx) ([]garden.Package, error) {
	return each(ctx, tx, func(scan func(...any) error) (p garden.Package, err error) {
		err = scan(&p.ID, &p.Material, &p.Name, &p.Mass, &p.Volume, &p.Price, &p.N, &p.P2O5, &p.K2O, &p.CCE, &p.Fineness)
		return p, err
	}, "SELECT id, material, name, mass_kg, volume_l, price, n, p2o5, k2o, cce, fineness FROM package WHERE NOT retired ORDER BY position, id")
}

// takePackages adds a description's packages; one of the same material, name and size takes the new price and label.
func takePackages(ctx context.Context, tx *sql.Tx, described []garden.Package) error {
	known, err := packages(ctx, tx)
	if err != nil {
		return err
	}
	for _, p := range described {
		at := slices.IndexFunc(known, func(k garden.Package) bool {
			return k.Material == p.Material && k.Name == p.Name && k.Mass == p.Mass && k.Volume == p.Volume
		})
		if at < 0 {
			if _, err := addPackage(ctx, tx, p); err != nil {
				return err
			}
			continue
		}
		p.ID = known[at].ID
		known = slices.Delete(known, at, at+1)
		if err := savePackage(ctx, tx, p); err != nil {
			return err
		}
	}
	return nil
}
