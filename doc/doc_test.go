package doc_test

import (
	"os"
	"strings"
	"testing"

	"kailyard/doc"
)

// TestEveryEntryIsRead: each "- **KEY**" line of the file becomes a source, each key once.
func TestEveryEntryIsRead(t *testing.T) {
	text, err := os.ReadFile("SOURCES.md")
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Count(string(text), "\n- **")
	if got := len(doc.Sources()); got != want || want < 50 {
		t.Errorf("%d entries in the file, %d read", want, got)
	}
	seen := map[string]bool{}
	for _, s := range doc.Sources() {
		if seen[s.Key] || s.Text == "" || s.Section == "" {
			t.Errorf("%s: twice, or without text or section", s.Key)
		}
		seen[s.Key] = true
	}
	if _, ok := doc.Find("FAO56-T12"); !ok {
		t.Error("FAO56-T12 is not found")
	}
}
