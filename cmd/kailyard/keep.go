package main

import (
	"context"

	"kailyard/internal/book"
)

type backupCmd struct {
	To string `arg:"" help:"The file to write; it must not exist."`
}

func (backupCmd) example() string { return "kailyard backup garden-2027-04-12.kailyard" }

// Run copies the book.
func (c *backupCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, reading, func(b *book.Book) error {
		if err := b.Backup(ctx, c.To); err != nil {
			return err
		}
		e.printf("Copied %s to %s.\n", e.book, c.To)
		return nil
	})
}

type restoreCmd struct {
	From string `arg:"" help:"A copy made by kailyard backup."`
}

func (restoreCmd) example() string {
	return "kailyard restore garden-2027-04-12.kailyard --book garden.kailyard"
}

// Run puts a copy back.
func (c *restoreCmd) Run(ctx context.Context, e *env) error {
	replaced, err := book.Restore(ctx, c.From, e.book)
	if err != nil {
		return err
	}
	e.printf("Put %s back as %s.\n", c.From, e.book)
	if replaced != "" {
		e.printf("What it replaced is kept as %s.\n", replaced)
	}
	return nil
}
