package main

import (
	"context"
	"io"

	"kailyard/internal/sheet"
)

type writeCmd struct {
	seasonFlag
	What string `arg:"" help:"calendar (iCalendar), jobs, orders or plan (CSV)." enum:"calendar,jobs,orders,plan"`
	To   string `help:"The file to write; it must not exist. Default: the screen." placeholder:"FILE"`
}

func (writeCmd) example() string { return "kailyard write calendar --to jobs.ics" }

// Run writes a file for other programs.
func (c *writeCmd) Run(ctx context.Context, e *env) error {
	b, err := e.open(ctx, true)
	if err != nil {
		return err
	}
	defer b.Close()
	r, err := kept(ctx, e, b, c.seasonFlag)
	if err != nil {
		return err
	}
	return e.writeTo(c.To, func(w io.Writer) error {
		switch c.What {
		case "calendar":
			return sheet.WriteCalendar(w, r.Jobs, sheet.Meta{
				Name: r.Garden.Site.Name + ", " + r.Season.String(), Stamp: e.Today.Time(),
			})
		case "jobs":
			return sheet.WriteJobsCSV(w, r.Jobs, r.Garden.Beds)
		case "orders":
			return sheet.WriteOrdersCSV(w, r.Orders)
		}
		return sheet.WritePlanCSV(w, r.Plan, r.Garden.Beds)
	})
}
