package book

import (
	"context"
	"database/sql"
	"maps"
	"slices"
)

// mostKept is how many bytes of growth tables a book keeps: those of some gardens, or of a large one with all its covers.
const mostKept = 24 << 20

// KeptTables are the growth tables kept under digests, as far as there are any. It never fails: what cannot be read is made anew.
func (b *Book) KeptTables(ctx context.Context, digests []string) map[string][]byte {
	found := map[string][]byte{}
	stale := false
	today := b.now().UTC().Format("2006-01-02")
	err := b.read(ctx, func(tx *sql.Tx) error {
		for _, digest := range digests {
			var body []byte
			var used string
			switch err := tx.QueryRowContext(ctx, "SELECT body, used_on FROM kept_table WHERE digest = $1", digest).Scan(&body, &used); err {
			case nil:
				found[digest] = body
				stale = stale || used != today
			case sql.ErrNoRows:
			default:
				return err
			}
		}
		return nil
	})
	if err == nil && stale && !b.readOnly {
		_ = b.shelve(ctx, func(tx *sql.Tx) error {
			for digest := range found {
				if _, err := tx.ExecContext(ctx, "UPDATE kept_table SET used_on = $2 WHERE digest = $1", digest, today); err != nil {
					return err
				}
			}
			return nil
		})
	}
	return found
}

// KeepTables keeps growth tables under their digests and drops those not asked for longest where there are too many. A book open for
// reading only keeps none; what cannot be kept is made anew the next time.
func (b *Book) KeepTables(ctx context.Context, tables map[string][]byte) {
	if b.readOnly || len(tables) == 0 {
		return
	}
	_ = b.shelve(ctx, func(tx *sql.Tx) error { return b.keepTables(ctx, tx, tables, mostKept) })
}

func (b *Book) keepTables(ctx context.Context, tx *sql.Tx, tables map[string][]byte, most int) error {
	today := b.now().UTC().Format("2006-01-02")
	for _, digest := range slices.Sorted(maps.Keys(tables)) {
		if _, err := tx.ExecContext(ctx, "INSERT INTO kept_table (digest, body, used_on) VALUES ($1, $2, $3) ON CONFLICT (digest) DO UPDATE SET body = $2, used_on = $3", digest, tables[digest], today); err != nil {
			return err
		}
	}
	_, err := tx.ExecContext(ctx, `
		DELETE FROM kept_table WHERE digest IN (
			SELECT digest FROM (SELECT digest, sum(length(body)) OVER (ORDER BY used_on DESC, rowid DESC) AS upto FROM kept_table) WHERE upto > $1)`, most)
	return err
}
