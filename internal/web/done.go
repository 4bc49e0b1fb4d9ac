package web

import (
	"context"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/work"
)

// entryKinds is what the journal says when a job is done.
var entryKinds = map[work.Kind]garden.EntryKind{
	work.Sow: garden.Sowed, work.SetOut: garden.SetOut, work.Plant: garden.SetOut,
	work.Harvest: garden.Harvested, work.Clear: garden.Cleared, work.Feed: garden.Fed, work.Prepare: garden.Dug,
	work.Break: garden.Dug, work.DigHoles: garden.Dug, work.Dress: garden.Fed,
}

// doneNote is how a journal entry names the job it ends: the planting it is for, and a sentence a
// person can read.
type doneNote struct{ planting, text string }

// doneNotes are the notes of all jobs, by the jobs' keys. Two jobs are never ended by one note: the
// first day is told where a planting has two jobs of one title, and of jobs for no planting, such as
// orders, always.
func doneNotes(jobs []work.Job) map[string]doneNote {
	count := map[doneNote]int{}
	for _, j := range jobs {
		count[doneNote{j.Planting, j.Title}]++
	}
	notes := make(map[string]doneNote, len(jobs))
	for _, j := range jobs {
		note := doneNote{j.Planting, "Done: " + j.Title}
		if j.Planting == "" || count[doneNote{j.Planting, j.Title}] > 1 {
			note.text += ", due from " + j.Window.From.Short()
		}
		notes[j.Key] = note
	}
	return notes
}

// doneDays are the days on which the journal has jobs as done, by the jobs' keys.
func doneDays(jobs []work.Job, entries []garden.Entry) map[string]civil.Date {
	told := map[doneNote]civil.Date{}
	for _, e := range entries {
		told[doneNote{e.Planting, e.Text}] = e.Date
	}
	days := map[string]civil.Date{}
	for _, j := range jobs {
		if j.Given != 0 {
			days[j.Key] = j.Given // what it puts on is in the book as given
		}
	}
	if len(told) == 0 {
		return days
	}
	for key, note := range doneNotes(jobs) {
		if d, ok := told[note]; ok {
			days[key] = d
		}
	}
	return days
}

// putEntries are what a job puts on the ground, as the journal has it when the job is done: what was given before is left out.
func putEntries(j work.Job, day civil.Date) []garden.Entry {
	var list []garden.Entry
	for _, p := range j.Puts {
		if p.BedID == 0 || p.Full() || p.Left() <= 0 && p.Volume <= 0 {
			continue
		}
		e := garden.Entry{Date: day, Kind: garden.Fed, BedID: p.BedID, Material: p.Material, Amount: p.Left(), Depth: p.Depth, Text: "With: " + j.Title}
		if p.Mass == 0 {
			e.Volume = p.Volume
		}
		list = append(list, e)
	}
	return list
}

// finished are the jobs of a season that its journal has as done.
func (s *site) finished(ctx context.Context, now *season.Result) (map[string]civil.Date, error) {
	entries, err := s.Store.Journal(ctx, civil.Span{From: now.Season.Start - work.Before, To: now.Season.End() + 366})
	if err != nil {
		return nil, err
	}
	return doneDays(now.Jobs, entries), nil
}
