package sheet

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/work"
)

// read reads a table back; encoding/csv refuses lines of another length than the header.
func read(t *testing.T, text string) []map[string]string {
	t.Helper()
	if strings.Count(text, "\n") != strings.Count(text, "\r\n") {
		t.Error("lines end CRLF (RFC 4180 §2)")
	}
	lines, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, cell := range line {
			row[lines[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

func expect(t *testing.T, row, want map[string]string) {
	t.Helper()
	for name, v := range want {
		if got, ok := row[name]; !ok || got != v {
			t.Errorf("%s = %q, want %q", name, got, v)
		}
	}
}

func TestPlanTable(t *testing.T) {
	raise := civil.Of(2027, 3, 6)
	first := civil.Of(2027, 6, 28)
	p := &plan.Plan{Plantings: []garden.Planting{{
		Key: "2027-03", BedID: 2, CropID: "cabbage-early", Way: crop.SetOut, Role: garden.Slow, Partner: "2027-04", RaiseOn: &raise,
		Start: civil.Of(2027, 4, 17), First: garden.Spread{P10: first - 6, P50: first, P90: first + 6}, Clear: civil.Of(2027, 7, 26),
		Place: garden.Place{AlongFrom: 0.5, AlongTo: 3.6576, AcrossTo: 1.2}, Rows: 4, Plants: 32, Success: 28, Years: 30, Expect: 28.1234567,
		Status: garden.Planned, Pinned: true, Reasons: []garden.Reason{{Says: `After "beans", not cabbages.`}, {Says: "Sun enough."}},
	}}}
	var b bytes.Buffer
	if err := WritePlanCSV(&b, p, []garden.Bed{{ID: 2, Name: "Square, by the wall"}}); err != nil {
		t.Fatal(err)
	}
	expect(t, read(t, b.String())[0], map[string]string{
		"planting_key": "2027-03", "bed": "Square, by the wall", "crop_id": "cabbage-early", "way": "set out", "role": "slow", "partner_key": "2027-04",
		"raise_date": "2027-03-06", "start_date": "2027-04-17", "emerge_p50": "", "first_harvest_p10": "2027-06-22", "first_harvest_p50": "2027-06-28",
		"first_harvest_p90": "2027-07-04", "last_harvest_p50": "", "clear_date": "2027-07-26", "along_from_m": "0.5", "along_to_m": "3.658",
		"across_from_m": "0", "across_to_m": "1.2", "rows": "4", "plants": "32", "success_years": "28", "weather_years": "30",
		"expected_harvest_kg": "28.123", "status": "planned", "pinned": "true", "why": `After "beans", not cabbages. | Sun enough.`,
	})
	b.Reset()
	if err := WritePlanCSV(&b, nil, nil); err != nil || b.String() != strings.Join(PlanHeader, ",")+"\r\n" {
		t.Error(err, b.String())
	}
}

func TestJobsAndOrdersTables(t *testing.T) {
	var b bytes.Buffer
	job := work.Job{
		Key: "2027-01/sow", Kind: work.Sow, Window: civil.Span{From: civil.Of(2027, 4, 10), To: civil.Of(2027, 4, 17)}, BedID: 1, Planting: "2027-01", CropID: "carrot",
		Title: "Sow carrot, main crop, in Long drill: two drills of 9 m", How: []string{"Draw.", "Sow."}, Weather: "dry", Hours: 0.5, Cautions: []string{"Gloves."},
	}
	if err := WriteJobsCSV(&b, []work.Job{job}, []garden.Bed{{ID: 1, Name: "Long drill"}}); err != nil {
		t.Fatal(err)
	}
	expect(t, read(t, b.String())[0], map[string]string{
		"job_key": "2027-01/sow", "kind": "sow", "from_date": "2027-04-10", "to_date": "2027-04-17", "bed": "Long drill", "planting_keys": "2027-01",
		"title": "Sow carrot, main crop, in Long drill: two drills of 9 m", "steps": "Draw. | Sow.", "time_h": "0.5", "cautions": "Gloves.", "why": "",
	})
	b.Reset()
	order := work.Order{CropID: "carrot", What: "carrot: seed", Count: 1560, Mass: 1.7689, Spare: 1, By: civil.Of(2027, 3, 27), For: []string{"2027-01", "2027-09"}}
	compost := work.Order{What: "compost, ripe", Volume: 313.78, By: civil.Of(2027, 3, 15), For: []string{"2027-01"}}
	if err := WriteOrdersCSV(&b, []work.Order{order, compost}); err != nil {
		t.Fatal(err)
	}
	expect(t, read(t, b.String())[1], map[string]string{"crop_id": "", "what": "compost, ripe", "count": "0", "volume_l": "313.8", "area_m2": "0"})
	expect(t, read(t, b.String())[0], map[string]string{
		"by_date": "2027-03-27", "count": "1560", "mass_g": "1.77", "spare_share": "1", "planting_keys": "2027-01 | 2027-09",
	})
}
