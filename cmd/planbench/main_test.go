package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

const four = "../../internal/allot/testdata/four.json"

func TestPrintsAPlan(t *testing.T) {
	var out bytes.Buffer
	if err := run([]string{"-instance", four, "-steps", "20000", "-seed", "3"}, &out); err != nil {
		t.Fatal(err)
	}
	var r report
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	if r.Value <= 0 || r.Bound < r.Value || len(r.Plan) == 0 || r.Plan[0].Strip.To <= r.Plan[0].Strip.From {
		t.Errorf("%s", out.String())
	}
}

func TestKeepsToItsTime(t *testing.T) {
	var out bytes.Buffer
	if err := run([]string{"-instance", four, "-seconds", "0.2"}, &out); err != nil {
		t.Fatal(err)
	}
	var r report
	if err := json.Unmarshal(out.Bytes(), &r); err != nil || r.Seconds > 2 {
		t.Errorf("%v, %g s", err, r.Seconds)
	}
}

func TestWritesMPS(t *testing.T) {
	var out bytes.Buffer
	if err := run([]string{"-instance", four, "-mps"}, &out); err != nil || !strings.HasSuffix(out.String(), "ENDATA\n") {
		t.Errorf("%v", err)
	}
}

func TestMissingFile(t *testing.T) {
	if err := run(nil, &bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), "-instance FILE") {
		t.Errorf("%v", err)
	}
}
