package book

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

// write runs a change in a transaction of its own: all of it is kept, or none.
func (b *Book) write(ctx context.Context, change func(tx *sql.Tx) error) error {
	return b.shelve(ctx, func(tx *sql.Tx) error {
		if err := change(tx); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "UPDATE book SET revision = revision + 1")
		return err
	})
}

// shelve is a write of what no page and no season rests on: the revision stays.
func (b *Book) shelve(ctx context.Context, change func(tx *sql.Tx) error) error {
	if b.readOnly {
		return &Error{Kind: Protected, Says: fmt.Sprintf("the garden book %s is open for reading only", b.path), Remedy: "open it for writing first"}
	}
	tx, err := b.db.BeginTx(ctx, nil)
	if err != nil {
		return explain(b.path, err)
	}
	defer tx.Rollback()
	if err := change(tx); err != nil {
		return explain(b.path, err)
	}
	return explain(b.path, tx.Commit())
}

// read runs questions in one transaction, so that their answers belong together.
func (b *Book) read(ctx context.Context, ask func(tx *sql.Tx) error) error {
	tx, err := b.db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return explain(b.path, err)
	}
	defer tx.Rollback()
	return explain(b.path, ask(tx))
}

// Revision grows by one with every change of the book, by whomever, but for years that services gave.
func (b *Book) Revision(ctx context.Context) (revision int64, err error) {
	err = b.db.QueryRowContext(ctx, "SELECT revision FROM book").Scan(&revision)
	return revision, explain(b.path, err)
}

// each reads every row of a question.
func each[T any](ctx context.Context, tx *sql.Tx, scan func(row func(...any) error) (T, error), query string, args ...any) (all []T, err error) {
	rows, err := tx.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		one, err := scan(rows.Scan)
		if err != nil {
			return nil, err
		}
		all = append(all, one)
	}
	return all, rows.Err()
}

// insert adds a row and gives its ID.
func insert(ctx context.Context, tx *sql.Tx, query string, args ...any) (int64, error) {
	result, err := tx.ExecContext(ctx, query, args...)
	if err != nil {
		return 0, err
	}
	return result.LastInsertId()
}

// update changes one row; found is false when there is none.
func update(ctx context.Context, tx *sql.Tx, query string, args ...any) (found bool, err error) {
	result, err := tx.ExecContext(ctx, query, args...)
	if err != nil {
		return false, err
	}
	n, err := result.RowsAffected()
	return n > 0, err
}

// count is the answer to a question for a number.
func count(ctx context.Context, tx *sql.Tx, query string, args ...any) (n int64, err error) {
	err = tx.QueryRowContext(ctx, query, args...).Scan(&n)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	return n, err
}
