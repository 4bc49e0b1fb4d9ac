package web

import (
	"strings"
	"testing"

	"kailyard/internal/weather"
)

// What the record asks to mend stands on the garden's page, where one comes to from giving it; what is only told does not.
func TestTheGardenTellsWhatItsRecordAsksToMend(t *testing.T) {
	now := *mustStory(t)
	record := *now.Record
	at := record.Days[100].Date
	record.Notes = []weather.Note{
		{Kind: weather.AboveClearSky, From: at, To: at, Says: "Radiation is above what can be (line 102)."},
		{Kind: weather.WrongUnit, From: at, To: at, Says: "The column for the wind was left out."},
		{Kind: "gridded", From: at, To: at, Says: "The values are a model's."},
	}
	now.Record = &record
	h, _ := storySite(t, &now, storyToday)
	text := words(parse(t, get(t, h, "/garden?done=weather")))
	if !strings.Contains(text, "The weather record: Radiation is above what can be (line 102).") || !strings.Contains(text, "The weather record: The column for the wind was left out.") {
		t.Errorf("not told: %s", text)
	}
	if strings.Contains(text, "a model's") {
		t.Error("a remark that asks for nothing stands among the doubts")
	}
}
