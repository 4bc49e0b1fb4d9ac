package sheet

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/work"

	"pgregory.net/rapid"
)

func sampleHead(units quantity.System) Head {
	return Head{
		Site:    garden.Site{Name: "Hill Garden (invented)", Units: units, Invented: true, Width: 20, Depth: 12},
		Weather: "Rests on 30 generated weather years, not on measured ones.", Generated: true, Written: civil.Of(2027, 5, 10),
	}
}

func sampleJob(i int) work.Job {
	return work.Job{
		Key: fmt.Sprintf("2027-%02d/sow", i), Kind: work.Sow, Window: civil.Span{From: civil.Of(2027, 5, 11), To: civil.Of(2027, 5, 18)}, BedID: 1,
		Title: fmt.Sprintf("Sow carrot %d, main crop: two drills of 9 m", i), Weather: "soil dry enough to crumble", Hours: .5,
		How:      []string{"Draw two drills 13 mm deep, 30 cm from middle to middle.", "Sow thinly, and firm with the back of the rake.", "Label the row."},
		Cautions: []string{"Seed sold dressed with a fungicide: wear gloves and wash hands."},
		Why:      []garden.Reason{{Says: "Up before the dry weeks"}}, Conditions: []garden.Reason{{Says: "Up by 29 May in one year of ten."}},
	}
}

func sampleWeek(units quantity.System, jobs int) Week {
	w := Week{Head: sampleHead(units), Beds: []garden.Bed{{ID: 1, Name: "Long drill"}}}
	w.Work.Span = civil.Span{From: civil.Of(2027, 5, 10), To: civil.Of(2027, 5, 16)}
	w.Work.Hours = 3
	for i := range jobs {
		w.Work.Begin = append(w.Work.Begin, sampleJob(i))
		going := sampleJob(100 + i)
		if i%2 == 0 {
			going.Kind = work.Harvest
		}
		w.Work.Going = append(w.Work.Going, going)
	}
	for _, by := range []civil.Date{civil.Of(2027, 5, 9), civil.Of(2027, 5, 10), civil.Of(2027, 6, 13), civil.Of(2027, 6, 14)} {
		w.Orders = append(w.Orders, work.Order{CropID: "beet", What: "beet for " + by.String(), Count: 200, Mass: 3.7, By: by})
	}
	return w
}

func written(t interface{ Fatal(...any) }, write func(*bytes.Buffer) error) []byte {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// pageCount reads the page tree's own count and the page objects (ISO 32000-1 §7.7.3).
func pageCount(t *testing.T, file []byte) int {
	t.Helper()
	m := regexp.MustCompile(`/Type /Pages\s[^>]*?/Count (\d+)`).FindSubmatch(file)
	if m == nil {
		t.Fatal("no page tree")
	}
	n, _ := strconv.Atoi(string(m[1]))
	if objects := len(regexp.MustCompile(`/Type /Page\s`).FindAll(file, -1)); objects != n {
		t.Errorf("the page tree counts %d, %d page objects stand in the file", n, objects)
	}
	return n
}

func TestTheWeekIsAPDFFile(t *testing.T) {
	for _, row := range []struct {
		units quantity.System
		jobs  int
		box   string // A4 is 210 × 297 mm, Letter 8.5 × 11 in; a point is 1/72 in
	}{{quantity.Metric, 0, "[0 0 595.28 841.89]"}, {quantity.US, 1, "[0 0 612.00 792.00]"}, {quantity.Metric, 9, "[0 0 595.28 841.89]"}} {
		week := sampleWeek(row.units, row.jobs)
		write := func(b *bytes.Buffer) error { return WriteWeekPDF(b, week) }
		file := written(t, write)
		if !bytes.HasPrefix(file, []byte("%PDF-1.")) || !bytes.Contains(file[len(file)-8:], []byte("%%EOF")) {
			t.Error("not a PDF file")
		}
		if !bytes.Contains(file, []byte("/MediaBox "+row.box)) {
			t.Errorf("the paper is not %s", row.box)
		}
		if n, laid := pageCount(t, file), len(layWeek(week).leaves); n != laid || n < 1 {
			t.Errorf("%d pages in the file, %d laid out", n, laid)
		}
		if !bytes.Equal(file, written(t, write)) {
			t.Error("the same week gives other bytes")
		}
		if !bytes.Contains(file, []byte("(D:20270510000000")) {
			t.Error("the file does not carry the date handed in")
		}
	}
}

func TestOrdersOfTheWeeksAhead(t *testing.T) {
	says := wording(layWeek(sampleWeek(quantity.Metric, 2)))
	for what, told := range map[string]bool{"2027-05-09": false, "2027-05-10": true, "2027-06-13": true, "2027-06-14": false} {
		if strings.Contains(says, "beetfor"+what) != told {
			t.Errorf("the order for %s: told is %v, want %v", what, !told, told)
		}
	}
	for _, must := range []string{"Takecare", "Begunbefore", "Topick", "Generatedweather,notmeasured.", "Aninventedgarden", "page1of", "Seedsolddressed"} {
		if !strings.Contains(says, must) {
			t.Errorf("the sheet does not say %q", must)
		}
	}
}

// wording is all that stands on the pages, in the order it is written, without spaces.
func wording(p *paper) string {
	if err := p.write(&bytes.Buffer{}, "test"); err != nil { // the feet are written last
		return err.Error()
	}
	var b strings.Builder
	for _, l := range p.leaves {
		for _, q := range l.boxes {
			b.WriteString(q.says)
		}
	}
	return solid(b.String())
}

// body is what stands on the pages between their heads and feet, without spaces.
func body(p *paper) string {
	var b strings.Builder
	for i, l := range p.leaves {
		for _, q := range l.boxes {
			if head := i > 0 && q.y1 < marginTop+15; !head && q.y0 < p.bottom()+10 && !strings.HasSuffix(q.says, "(continued)") {
				b.WriteString(q.says)
			}
		}
	}
	return solid(b.String())
}

func solid(text string) string {
	return strings.NewReplacer(" ", "", "\n", "", "\u00a0", "").Replace(text)
}

// sound checks every line of every page: inside the margins, in letters the fonts have, and on no
// other line.
func sound(t interface{ Fatalf(string, ...any) }, p *paper) {
	has := lettered()
	for i, l := range p.leaves {
		for k, q := range l.boxes {
			if q.x0 < marginLeft-.01 || q.x1 > p.right()+.01 || q.y0 < marginTop-6 || q.y1 > p.high-24 {
				t.Fatalf("page %d: %q lies at %.1f–%.1f, %.1f–%.1f, out of the margins", i+1, q.says, q.x0, q.x1, q.y0, q.y1)
			}
			for _, r := range q.says {
				if r >= 1<<16 || !has[r] {
					t.Fatalf("page %d: %q has no letter for %U", i+1, q.says, r)
				}
			}
			for _, o := range l.boxes[:k] {
				// ascenders and descenders of close lines may share a hair's breadth
				o.y0, o.y1 = o.y0+(o.y1-o.y0)*.14, o.y1-(o.y1-o.y0)*.1
				if q.meets(o) && !(q.picture && o.picture) {
					t.Fatalf("page %d: %q and %q stand on each other", i+1, q.says, o.says)
				}
			}
		}
	}
}

// longText draws words such as people write and such as nobody does.
func longText(t *rapid.T, name string, most int) string {
	word := rapid.SampledFrom([]string{
		"a", "bed", "carrots", "half-hardy", "wheelbarrows", "☃", "Κήπος", "½", "2.5 cm", "\n", "🥕", "→", "(invented)", "№", "W",
		strings.Repeat("Möhrenbeet", 9), strings.Repeat("W", 70), strings.Repeat("il1.", 80), strings.Repeat("ΚΗΠΟΣ", 50),
	})
	return strings.Join(rapid.SliceOfN(word, 1, most).Draw(t, name), " ")
}

// Whatever a week holds: nothing is clipped, nothing overlaps, nothing is left out, and a job is
// broken only when it is longer than a page, and then not before its first step.
func TestLawsOfTheWeek(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		week := sampleWeek(rapid.SampledFrom([]quantity.System{quantity.Metric, quantity.US}).Draw(t, "units"), 0)
		week.Site.Name = longText(t, "name", 6)
		week.Weather = longText(t, "weather", 12)
		week.Beds[0].Name = longText(t, "bed", 4)
		steps := rapid.SampledFrom([]int{1, 5, 60}).Draw(t, "most steps")
		for i := range rapid.IntRange(0, 3).Draw(t, "jobs") {
			j := sampleJob(i)
			j.Title = fmt.Sprintf("Job%dbegins ", i) + longText(t, "title", 9)
			j.How = []string{fmt.Sprintf("Step%dfirst ", i) + longText(t, "step", 9)}
			for range rapid.IntRange(0, steps).Draw(t, "steps") {
				j.How = append(j.How, longText(t, "step", 20))
			}
			j.How = append(j.How, fmt.Sprintf("Step%dlast", i))
			j.Cautions = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) string { return longText(t, "caution", 12) }), 0, 3).Draw(t, "cautions")
			week.Work.Begin = append(week.Work.Begin, j)
			going := sampleJob(50 + i)
			going.Title = longText(t, "going", 12)
			week.Work.Going = append(week.Work.Going, going)
			week.Orders = append(week.Orders, work.Order{What: longText(t, "order", 9), Count: 9, By: civil.Of(2027, 5, 20)})
		}
		p := layWeek(week)
		if err := p.write(&bytes.Buffer{}, "test"); err != nil {
			t.Fatal(err)
		}
		sound(t, p)
		says := body(p)
		for i, j := range week.Work.Begin {
			for _, text := range append(append([]string{j.Title}, j.How...), j.Cautions...) {
				if !strings.Contains(says, solid(readable(text))) {
					t.Fatalf("%q is not on the sheet", text)
				}
			}
			title, first, last := pageOf(p, fmt.Sprintf("Job%dbegins", i)), pageOf(p, fmt.Sprintf("Step%dfirst", i)), pageOf(p, fmt.Sprintf("Step%dlast", i))
			high := p.job(j, week.Beds[0].Name).high()
			if title < 0 || title != first && high < p.bottom()-marginTop-40 {
				t.Fatalf("job %d: its title is on page %d, its first step on page %d", i, title+1, first+1)
			}
			if title != last && high < p.bottom()-marginTop-40 {
				t.Fatalf("job %d has room on one page (%.0f points) and is broken", i, high)
			}
		}
	})
}

func pageOf(p *paper, says string) int {
	for i, l := range p.leaves {
		for _, q := range l.boxes {
			if strings.HasPrefix(q.says, says) && !strings.HasSuffix(q.says, "(continued)") {
				return i
			}
		}
	}
	return -1
}

func TestFullDiskForPaper(t *testing.T) {
	if err := WriteWeekPDF(fullDisk{}, sampleWeek(quantity.Metric, 1)); err == nil || !strings.Contains(err.Error(), "no space left") {
		t.Error(err)
	}
	if err := WriteSeasonPDF(fullDisk{}, sampleSeason(quantity.Metric)); err == nil || !strings.Contains(err.Error(), "no space left") {
		t.Error(err)
	}
	if err := WriteSeasonPDF(&bytes.Buffer{}, Season{}); err == nil {
		t.Error("a season without a plan is written")
	}
}

// An independent reader finds the writing: poppler's pdftotext, where it is installed.
func TestAnotherProgramReadsThePages(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not installed")
	}
	name := filepath.Join(t.TempDir(), "week.pdf")
	week := sampleWeek(quantity.Metric, 3)
	week.Work.Begin[0].How[0] = "Κήπος, ½ in, 2.5 cm ± −3 °C, naïve ☃"
	if err := os.WriteFile(name, written(t, func(b *bytes.Buffer) error { return WriteWeekPDF(b, week) }), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-layout", name, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, must := range []string{"Κήπος, ½ in, 2.5 cm ± −3 °C, naïve □", "The week of Mon 10 May 2027", "Take care", "page 1 of 2", "Sow carrot 2, main crop"} {
		if !strings.Contains(string(out), must) {
			t.Errorf("%q is not read back from\n%s", must, out)
		}
	}
}
