package main

import (
	"context"
	"fmt"

	"kailyard/internal/book"
)

type pinCmd struct {
	seasonFlag
	Key  string `arg:"" help:"The planting's key, from the plan."`
	Free bool   `help:"Let the planner move it again."`
}

func (pinCmd) example() string { return "kailyard pin 2027-04\nkailyard pin 2027-04 --free" }

// Run keeps a planting exactly so in every new plan, or lets the planner move it again.
func (c *pinCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, changing, func(b *book.Book) error {
		r, err := kept(ctx, e, b, c.seasonFlag)
		if err != nil {
			return err
		}
		p, ok := r.Planting(c.Key)
		if !ok {
			return fmt.Errorf("the plan has no planting %q; `kailyard plan --kept` lists their keys", c.Key)
		}
		if !c.Free {
			if why, remedy := r.PinRefused(p); why != "" {
				return fmt.Errorf("%s (%s) cannot be kept exactly so: %s %s", cropName(r, p.CropID), p.Key, why, remedy)
			}
		}
		if err := b.SetPinned(ctx, c.Key, !c.Free); err != nil {
			return err
		}
		p.Pinned = !c.Free
		if e.json {
			return e.printJSON(plantingOf(r, p))
		}
		plantingWords(e.Stdout, r, p)
		if c.Free {
			e.printf("The planner may move it again at the next planning.\n")
		} else {
			e.printf("Kept: every new plan takes it exactly so, with what shares its ground.\n")
		}
		return nil
	})
}
