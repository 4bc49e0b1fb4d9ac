package book

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// What was put on and was written wrongly counts no more; the journal keeps it, with a line that tells so, and an import does not bring it back.
func TestATreatmentIsWithdrawn(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, tilled()))
	g := mustGarden(t, b)
	wrong := g.Treatments[0]
	check(t, b.WithdrawTreatment(ctx, wrong.EntryID))
	wantTrouble(t, b.WithdrawTreatment(ctx, wrong.EntryID), Unknown, "treatment")
	wantTrouble(t, b.WithdrawTreatment(ctx, 999), Unknown, "treatment")
	left := mustGarden(t, b).Treatments
	if len(left) != len(g.Treatments)-1 || left[0].EntryID == wrong.EntryID {
		t.Errorf("what counts is %+v", left)
	}
	check(t, b.Import(ctx, tilled()))
	if again := mustGarden(t, b).Treatments; len(again) != len(left) {
		t.Errorf("an import brings it back: %+v", again)
	}
	entries, err := b.Journal(ctx, civil.Span{From: civil.Of(2020, 1, 1), To: civil.Of(2030, 1, 1)})
	check(t, err)
	kept, told := false, false
	for _, e := range entries {
		kept = kept || e.ID == wrong.EntryID && e.Material == wrong.Material
		told = told || e == garden.Entry{ID: e.ID, Date: wrong.Date, Kind: garden.Noted, BedID: wrong.BedID, Text: wrong.Withdrawal().Text}
	}
	if !kept || !told {
		t.Errorf("the journal keeps it: %v, tells of it: %v", kept, told)
	}
	if _, err := b.db.ExecContext(ctx, "DELETE FROM treatment_withdrawn"); err == nil {
		t.Error("a withdrawal can be taken away")
	}
}

// An amount that no ground is given is refused, whoever writes it.
func TestWhatNoGroundIsGivenIsRefused(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, tilled()))
	bed := mustGarden(t, b).Beds[0]
	e := garden.Entry{Date: civil.Of(2027, 4, 1), Kind: garden.Fed, BedID: bed.ID, Material: "limestone-ground", Amount: 4000}
	_, err := b.Append(ctx, e)
	wantTrouble(t, err, Refused, "more than any ground is given")
}
