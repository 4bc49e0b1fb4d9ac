package main

import (
	"context"
	"fmt"
	"hash/fnv"
	"io"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/sheet"
	"kailyard/internal/work"
)

type writeCmd struct {
	seasonFlag
	What string    `arg:"" help:"week or season (PDF, for the shed), calendar (iCalendar), jobs, orders or plan (CSV)." enum:"week,season,calendar,jobs,orders,plan"`
	To   string    `help:"The file to write; it must not exist. Default: the screen, except for PDF." placeholder:"FILE"`
	Week civilFlag `help:"Any day of the week to write; default: this week." placeholder:"DATE"`
}

func (writeCmd) example() string {
	return "kailyard write calendar --to jobs.ics\nkailyard write week --week 2027-05-10 --to week.pdf"
}

// Run writes paper, or a file for other programs.
func (c *writeCmd) Run(ctx context.Context, e *env) error {
	if paper := c.What == "week" || c.What == "season"; paper && c.To == "" {
		return usageError{fmt.Sprintf("write %s makes a PDF file; say where to with --to %s.pdf", c.What, c.What)}
	}
	if c.Week.set && c.What != "week" {
		return usageError{"--week goes with `write week` only"}
	}
	return e.with(ctx, reading, func(b *book.Book) error {
		day := e.Today
		if c.Week.set {
			day = c.Week.date
		}
		read := kept
		if c.What == "week" {
			read = func(ctx context.Context, _ *env, b *book.Book, f seasonFlag) (*season.Result, error) {
				return weekOf(ctx, b, f, day)
			}
		}
		r, err := read(ctx, e, b, c.seasonFlag)
		if err != nil {
			return err
		}
		return e.writeTo(c.To, func(w io.Writer) error {
			switch c.What {
			case "week":
				return sheet.WriteWeekPDF(w, sheet.Week{Head: headOf(e, r), Beds: r.Garden.Beds, Work: work.WeekOf(r.Jobs, day), Orders: r.Orders, Water: weekWater(r, day)})
			case "season":
				return sheet.WriteSeasonPDF(w, sheet.Season{Head: headOf(e, r), Garden: r.Sunlit(), Plan: r.Plan, Crops: r.Crops, Frost: r.Frost(0), Soil: r.Soil, Jobs: r.Jobs, Orders: r.Orders})
			case "calendar":
				return sheet.WriteCalendar(w, r.Jobs, sheet.Meta{
					Name: r.Garden.Site.Name + ", " + r.Season.String(), Stamp: e.Today.Time(), Space: space(r.Garden.Site),
				})
			case "jobs":
				return sheet.WriteJobsCSV(w, r.Jobs, r.Garden.Beds)
			case "orders":
				return sheet.WriteOrdersCSV(w, r.Orders)
			}
			return sheet.WritePlanCSV(w, r.Plan, r.Garden.Beds)
		})
	})
}

// headOf is what every sheet of paper says of itself.
func headOf(e *env, r *season.Result) sheet.Head {
	return sheet.Head{Site: r.Garden.Site, Weather: basisWords(r), Generated: r.Generated(), Written: e.Today}
}

// space tells one garden's calendar entries from another's: the place it is in.
func space(s garden.Site) string {
	h := fnv.New32a()
	fmt.Fprintf(h, "%s %.4f %.4f", s.Name, s.Latitude, s.Longitude)
	return fmt.Sprintf("garden-%08x", h.Sum32())
}

// weekWater is what the beds want of water in the week of a day, where that can be told.
func weekWater(r *season.Result, day civil.Date) []work.BedWater {
	w, err := r.Water(day, nil)
	if err != nil {
		return nil
	}
	return w.InWeek(day.Monday())
}
