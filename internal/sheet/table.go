package sheet

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/work"
)

// The tables are CSV as RFC4180 has it: comma, CRLF, a header line, quotes where needed; dates as
// YYYY-MM-DD, decimals with a point, an absent value empty. Units stand in the column names and are
// always metric. Column names are stable: new ones are only ever added at the end.

// JobsHeader are the columns of WriteJobsCSV.
var JobsHeader = []string{
	"job_key", "kind", "from_date", "to_date", "bed", "planting_keys", "crop_id", "title", "steps", "weather", "time_h", "why", "cautions", "spread", "puts", "given_date",
}

// WriteJobsCSV writes jobs, one to a line. Where a cell holds several (planting keys, steps,
// reasons) they are parted by " | ".
func WriteJobsCSV(w io.Writer, jobs []work.Job, beds []garden.Bed) error {
	names := bedNames(beds)
	t := newTable(w, "jobs", JobsHeader)
	for _, j := range jobs {
		keys := j.Serves
		if len(keys) == 0 && j.Planting != "" {
			keys = []string{j.Planting}
		}
		given := ""
		if j.Given != 0 {
			given = j.Given.String()
		}
		t.row(
			j.Key, string(j.Kind), j.Window.From.String(), j.Window.To.String(), names[j.BedID], several(keys), j.CropID,
			j.Title, several(j.How), j.Weather, decimal(float64(j.Hours), 2), says(j.Why), several(j.Cautions), says(j.Conditions),
			putCells(j.Puts, names), given,
		)
	}
	return t.end()
}

// putCells are what a job puts on its beds: "South bed: limestone-ground 1.2 kg".
func putCells(puts []work.Put, names map[int64]string) string {
	var parts []string
	for _, p := range puts {
		part := fmt.Sprintf("%s: %s %s kg", names[p.BedID], p.Material, decimal(float64(p.Mass), 3))
		if p.Volume > 0 {
			part += fmt.Sprintf(", %s l", decimal(float64(p.Volume), 1))
		}
		parts = append(parts, part)
	}
	return several(parts)
}

// OrdersHeader are the columns of WriteOrdersCSV.
var OrdersHeader = []string{"by_date", "crop_id", "what", "count", "mass_g", "spare_share", "planting_keys", "why", "packets", "volume_l", "length_m", "area_m2", "packages", "cost"}

// WriteOrdersCSV writes the shopping list, one line to a line. Supplies have no crop; they are measured
// by their count, volume, length or area.
func WriteOrdersCSV(w io.Writer, orders []work.Order) error {
	t := newTable(w, "orders", OrdersHeader)
	for _, o := range orders {
		t.row(o.By.String(), o.CropID, o.What, strconv.Itoa(o.Count), decimal(float64(o.Mass), 2), decimal(o.Spare, 2), several(o.For), says(o.Why),
			strconv.Itoa(o.Packets), decimal(float64(o.Volume), 1), decimal(float64(o.Length), 2), decimal(float64(o.Area), 2), packageCells(o), decimal(o.Cost, 2))
	}
	return t.end()
}

// packageCells are the packages to buy: "2 × 10 kg".
func packageCells(o work.Order) string {
	var parts []string
	for _, b := range o.Bags {
		parts = append(parts, fmt.Sprintf("%d × %s kg", b.Count, decimal(float64(b.Size.Mass), 3)))
	}
	return several(parts)
}

// PlanHeader are the columns of WritePlanCSV. The rectangle is inside the bed, in metres along its
// length and across its width from the corner the bed is measured from.
var PlanHeader = []string{
	"planting_key", "bed", "crop_id", "way", "role", "partner_key",
	"raise_date", "start_date", "emerge_p10", "emerge_p50", "emerge_p90",
	"first_harvest_p10", "first_harvest_p50", "first_harvest_p90",
	"last_harvest_p10", "last_harvest_p50", "last_harvest_p90", "clear_date",
	"along_from_m", "along_to_m", "across_from_m", "across_to_m", "rows", "plants",
	"success_years", "weather_years", "expected_harvest_kg", "status", "pinned", "why", "cover",
}

// WritePlanCSV writes the plantings of a plan, one to a line, in the plan's order.
func WritePlanCSV(w io.Writer, p *plan.Plan, beds []garden.Bed) error {
	names := bedNames(beds)
	t := newTable(w, "plan", PlanHeader)
	if p == nil {
		return t.end()
	}
	for _, q := range p.Plantings {
		q = q.AsItStands()
		raise := ""
		if q.RaiseOn != nil {
			raise = q.RaiseOn.String()
		}
		cells := []string{q.Key, names[q.BedID], q.CropID, string(q.Way), string(q.Role), q.Partner, raise, q.Start.String()}
		for _, s := range []garden.Spread{q.Emerge, q.First, q.Last} {
			cells = append(cells, dated(s.P10, q.Start), dated(s.P50, q.Start), dated(s.P90, q.Start))
		}
		cells = append(cells, q.Clear.String(),
			metres(q.Place.AlongFrom), metres(q.Place.AlongTo), metres(q.Place.AcrossFrom), metres(q.Place.AcrossTo),
			strconv.Itoa(q.Rows), strconv.Itoa(q.Plants), strconv.Itoa(q.Success), strconv.Itoa(q.Years),
			decimal(float64(q.Expect), 3), string(q.Status), strconv.FormatBool(q.Pinned), says(q.Reasons), q.Protection)
		t.row(cells...)
	}
	return t.end()
}

// dated is a day of a spread; empty when the plan has none (before the planting went in).
func dated(day, start civil.Date) string {
	if day < start {
		return ""
	}
	return day.String()
}

func metres[M ~float64](v M) string { return decimal(float64(v), 3) }

// decimal is a number at most so many places long, without trailing zeros.
func decimal(v float64, places int) string {
	text := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

func several(parts []string) string { return strings.Join(parts, " | ") }

func says(reasons []garden.Reason) string {
	var parts []string
	for _, r := range reasons {
		parts = append(parts, r.Says)
	}
	return several(parts)
}

func bedNames(beds []garden.Bed) map[int64]string {
	names := map[int64]string{}
	for _, b := range beds {
		names[b.ID] = b.Name
	}
	return names
}

// table is a CSV file being written; the first error is kept.
type table struct {
	csv  *csv.Writer
	what string
	err  error
}

func newTable(w io.Writer, what string, header []string) *table {
	t := &table{csv: csv.NewWriter(w), what: what}
	t.csv.UseCRLF = true
	t.row(header...)
	return t
}

func (t *table) row(cells ...string) {
	if t.err == nil {
		t.err = t.csv.Write(cells)
	}
}

func (t *table) end() error {
	t.csv.Flush()
	if t.err == nil {
		t.err = t.csv.Error()
	}
	if t.err != nil {
		return fmt.Errorf("the table of %s could not be written: %w", t.what, t.err)
	}
	return nil
}
