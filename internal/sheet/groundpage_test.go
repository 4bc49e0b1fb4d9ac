package sheet

import (
	"bytes"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/work"
)

// The paper carries the ground: the bed's reading, what it is given and when, and what to buy.
func TestGroundOnPaper(t *testing.T) {
	s := sampleSeason(quantity.Metric)
	bed := s.Garden.Beds[0].ID
	without, err := laySeason(s)
	if err != nil {
		t.Fatal(err)
	}
	s.Soil = &work.SoilBook{Day: civil.Of(2027, 1, 1), Beds: []work.BedGround{{BedID: bed, Read: []string{"Tested 5 Oct 2026: pH 5.4."}}}}
	s.Jobs = []work.Job{{Key: "dress/limestone-ground-2027-09", Kind: work.Dress, Window: civil.Span{From: civil.Of(2027, 9, 15), To: civil.Of(2027, 10, 30)},
		Puts: []work.Put{{BedID: bed, Material: "limestone-ground", Mass: 2.5, Given: 1, Depth: .18, Part: 1, Parts: 3}}}}
	with, err := laySeason(s)
	if err != nil {
		t.Fatal(err)
	}
	if len(with.leaves) != len(without.leaves)+1 {
		t.Errorf("%d pages, %d without the ground", len(with.leaves), len(without.leaves))
	}
	rows := s.givings(bed)
	if len(rows) != 1 || rows[0][2] != "ground limestone: 2.5 kg (1¾ litres), of which 1 kg given, part 1 of 3, 18 cm deep" { // 2.5 kg at 1.36 kg/L is 1.84 L
		t.Errorf("%q", rows)
	}
	var out bytes.Buffer
	if err := WriteSeasonPDF(&out, s); err != nil || out.Len() == 0 {
		t.Error(err)
	}
}
