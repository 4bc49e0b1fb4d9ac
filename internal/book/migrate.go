package book

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"

	"github.com/pressly/goose/v3"
	_ "modernc.org/sqlite" // the driver
)

//go:embed migrations/*.sql
var migrations embed.FS

// provider runs the migrations, each in its own transaction.
func provider(db *sql.DB) (*goose.Provider, error) {
	files, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return nil, err
	}
	return goose.NewProvider(goose.DialectSQLite3, db, files, goose.WithDisableGlobalRegistry(true))
}

func migrate(ctx context.Context, db *sql.DB) error {
	p, err := provider(db)
	if err != nil {
		return err
	}
	_, err = p.Up(ctx)
	return err
}

// latestSchema is the schema this kailyard knows.
func latestSchema(db *sql.DB) (int64, error) {
	p, err := provider(db)
	if err != nil {
		return 0, err
	}
	sources := p.ListSources()
	return sources[len(sources)-1].Version, nil
}

// schema is the schema the file has.
func (b *Book) schema(ctx context.Context) (version int64, err error) {
	err = b.db.QueryRowContext(ctx, "SELECT coalesce(max(version_id), 0) FROM goose_db_version WHERE is_applied").Scan(&version)
	return version, err
}

// compare gives the file's schema and ours, and refuses a newer one.
func (b *Book) compare(ctx context.Context) (has, latest int64, err error) {
	if has, err = b.schema(ctx); err != nil {
		return 0, 0, err
	}
	if latest, err = latestSchema(b.db); err != nil {
		return 0, 0, err
	}
	if has > latest {
		return 0, 0, &Error{
			Kind:   Newer,
			Says:   fmt.Sprintf("the garden book %s was made by a newer kailyard (its schema is %d, this one knows up to %d)", b.path, has, latest),
			Remedy: "open it with the newer kailyard; nothing in it was touched",
		}
	}
	return has, latest, nil
}

// bringUpToDate migrates an older book, after laying a copy beside it.
func (b *Book) bringUpToDate(ctx context.Context) error {
	has, latest, err := b.compare(ctx)
	if err != nil || has == latest {
		return err
	}
	copied := free(fmt.Sprintf("%s.schema-%d", b.path, has))
	if err := b.Backup(ctx, copied); err != nil {
		return err
	}
	return migrate(ctx, b.db)
}

// current refuses what cannot be read as it is.
func (b *Book) current(ctx context.Context) error {
	has, latest, err := b.compare(ctx)
	if err != nil || has == latest {
		return err
	}
	return &Error{Kind: Older, Says: fmt.Sprintf("the garden book %s was made by an older kailyard", b.path), Remedy: "open it once for writing, for example with kailyard serve, and it is brought up to date"}
}
