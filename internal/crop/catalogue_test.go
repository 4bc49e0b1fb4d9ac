package crop

import (
	"os"
	"path/filepath"
	"testing"
)

// TestCatalogue loads every file of data, reports everything wrong with any of them, and holds
// the whole to what the program needs.
func TestCatalogue(t *testing.T) {
	names, err := filepath.Glob("data/*.toml")
	if err != nil || len(names) == 0 {
		t.Fatal("no crops in data", err)
	}
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			file, err := os.Open(name)
			if err != nil {
				t.Fatal(err)
			}
			defer file.Close()
			if _, err := Load(name, file); err != nil {
				t.Error(err)
			}
		})
	}
}
