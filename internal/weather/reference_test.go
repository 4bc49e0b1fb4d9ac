package weather

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// reference is the folder of published tables that stands beside the repository on some machines.
// Tests that need it are skipped where it is absent; none of them is the only check of a thing.
func reference(t testing.TB, parts ...string) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		candidate := filepath.Join(filepath.Dir(dir), "shared", "reference")
		if _, err := os.Stat(candidate); err == nil {
			return filepath.Join(append([]string{candidate}, parts...)...)
		}
		if dir == filepath.Dir(dir) {
			t.Skip("the folder of reference tables is not beside the repository")
		}
		dir = filepath.Dir(dir)
	}
}

func readReference(t testing.TB, parts ...string) *Record {
	t.Helper()
	path := reference(t, parts...)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Skipf("%v", err)
	}
	r, err := Read(filepath.Base(path), bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return r
}
