package sheet

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/work"

	"pgregory.net/rapid"
)

var stamp = time.Date(2027, 1, 2, 3, 4, 5, 0, time.UTC)

// Folding by the rules of RFC 5545 §3.1: CRLF, at most 75 octets, the fold's space counted, no
// character split. The folds were worked by those rules, not by this program.
func TestFoldByTheStandard(t *testing.T) {
	for _, row := range []struct{ unfolded, folded string }{
		{"DESCRIPTION:" + strings.Repeat("a", 63), "DESCRIPTION:" + strings.Repeat("a", 63)}, // 75 octets
		{"DESCRIPTION:" + strings.Repeat("a", 64), "DESCRIPTION:" + strings.Repeat("a", 63) + "\r\n a"},
		{
			"SUMMARY:Sow carrots 'Summer' in bed 3, row 2 (60 cm) and cover with fleece until the 15th of May",
			"SUMMARY:Sow carrots 'Summer' in bed 3, row 2 (60 cm) and cover with fleece \r\n until the 15th of May",
		},
		{
			"DESCRIPTION:Pflanzabstand 30 cm, Reihenabstand 45 cm – Kürbis, Grünkohl, Rüben äöüß äöüß äöüß äöüß",
			"DESCRIPTION:Pflanzabstand 30 cm, Reihenabstand 45 cm – Kürbis, Grünkohl\r\n , Rüben äöüß äöüß äöüß äöüß",
		},
		{"", ""},
	} {
		if got := fold(row.unfolded); got != row.folded+"\r\n" {
			t.Errorf("got  %q\nwant %q", got, row.folded+"\r\n")
		}
	}
}

// The standard's own example (§3.1) unfolds to one line.
func TestUnfoldExampleOfTheStandard(t *testing.T) {
	folded := "DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line."
	if got := unfold(folded); got != "DESCRIPTION:This is a long description that exists on a long line." {
		t.Error(got)
	}
}

func unfold(text string) string { return strings.ReplaceAll(text, "\r\n ", "") }

// §3.3.11; the second is the standard's own example.
func TestEscapeByTheStandard(t *testing.T) {
	for raw, want := range map[string]string{
		"a,b;c\\d\ne": `a\,b\;c\\d\ne`,
		"Project XYZ Final Review\nConference Room - 3B\nCome Prepared.": `Project XYZ Final Review\nConference Room - 3B\nCome Prepared.`,
		"one\r\ntwo\x00\x07": `one\ntwo`,
	} {
		if got := escape(raw); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// §3.6.1: an event of all days from 28 June to 8 July 2007 has DTEND 9 July: the end is not in it.
func TestAllDayExampleOfTheStandard(t *testing.T) {
	job := work.Job{Key: "2007-01/sow", Kind: work.Sow, Title: "Sow", Window: civil.Span{From: civil.Of(2007, 6, 28), To: civil.Of(2007, 7, 8)}}
	text := calendarText(t, []work.Job{job})
	for _, line := range []string{"DTSTART;VALUE=DATE:20070628\r\n", "DTEND;VALUE=DATE:20070709\r\n"} {
		if !strings.Contains(text, line) {
			t.Errorf("no %q in\n%s", line, text)
		}
	}
}

func calendarText(t *testing.T, jobs []work.Job) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteCalendar(&b, jobs, Meta{Name: "Jobs; Hill, 2027", Stamp: stamp, Space: "hill"}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestCalendarIsWhole(t *testing.T) {
	jobs := []work.Job{{
		Key: "2027-01/sow-under-cover", Kind: work.Raise, Title: "Sow cabbage, early, under cover: 41 cells",
		Window: civil.Span{From: civil.Of(2027, 3, 6), To: civil.Of(2027, 3, 13)},
		How:    []string{"Fill 41 cells.", "Water; wait."}, Weather: "any", Hours: 0.5,
		Cautions: []string{"Wet the dust."}, Why: []garden.Reason{{Says: "Six weeks."}}, Conditions: []garden.Reason{{Says: "Up by May."}},
	}}
	text := calendarText(t, jobs)
	if text != calendarText(t, jobs) {
		t.Error("the same jobs give another file")
	}
	lines := strings.Split(strings.TrimSuffix(unfold(text), "\r\n"), "\r\n")
	want := []string{
		"BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//kailyard//jobs//EN", "CALSCALE:GREGORIAN", "METHOD:PUBLISH", `X-WR-CALNAME:Jobs\; Hill\, 2027`,
		"BEGIN:VEVENT", "UID:2027-01/sow-under-cover@hill.kailyard", "DTSTAMP:20270102T030405Z", "DTSTART;VALUE=DATE:20270306", "DTEND;VALUE=DATE:20270314",
		`SUMMARY:Sow cabbage\, early\, under cover: 41 cells`,
		`DESCRIPTION:1. Fill 41 cells.\n2. Water\; wait.\nWeather: any\nTime: about 0.5 h\nTake care: Wet the dust.\nWhy: Six weeks.\nUp by May.`,
		"CATEGORIES:sow under cover", "TRANSP:TRANSPARENT", "END:VEVENT", "END:VCALENDAR",
	}
	if strings.Join(lines, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(lines, "\n"), strings.Join(want, "\n"))
	}
}

// Whatever a person names a bed: lines end CRLF, none is longer than 75 octets, all is UTF-8, and
// unfolding and unescaping gives the title back.
func TestLawsOfTheCalendar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		title := rapid.StringMatching(`[ -~äöü–½\n]{1,120}`).Draw(t, "title")
		var b bytes.Buffer
		if err := WriteCalendar(&b, []work.Job{{Key: "k", Kind: work.Sow, Title: title}}, Meta{Stamp: stamp}); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		if strings.Count(text, "\n") != strings.Count(text, "\r\n") || !utf8.ValidString(text) {
			t.Fatal("a bare line feed, or broken characters")
		}
		for _, line := range strings.Split(text, "\r\n") {
			if len(line) > 75 || !utf8.ValidString(line) {
				t.Fatalf("%d octets: %q", len(line), line)
			}
		}
		for _, line := range strings.Split(unfold(text), "\r\n") {
			if rest, ok := strings.CutPrefix(line, "SUMMARY:"); ok {
				if got := strings.NewReplacer(`\\`, `\`, `\n`, "\n", `\,`, ",", `\;`, ";").Replace(rest); got != title {
					t.Fatalf("got %q, want %q", got, title)
				}
			}
		}
	})
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

func TestFullDisk(t *testing.T) {
	if err := WriteCalendar(fullDisk{}, nil, Meta{}); err == nil || !strings.Contains(err.Error(), "no space left") {
		t.Error(err)
	}
	if err := WriteOrdersCSV(fullDisk{}, nil); err == nil || !strings.Contains(err.Error(), "no space left") {
		t.Error(err)
	}
}
