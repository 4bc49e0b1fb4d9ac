package allot

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

func TestMPSHasEveryPlacement(t *testing.T) {
	p, _ := invented(t, 1, 4, 10)
	var out bytes.Buffer
	if err := WriteMPS(&out, p); err != nil {
		t.Fatal(err)
	}
	text := out.String()
	if got, want := strings.Count(text, "\n UP b z"), newBoard(p).size(); got < want {
		t.Errorf("%d placements, the search knows %d", got, want)
	}
	for _, section := range []string{"ROWS", "COLUMNS", "RHS", "BOUNDS", "ENDATA"} {
		if !strings.Contains(text, "\n"+section+"\n") {
			t.Errorf("no section %s", section)
		}
	}
}

// A general solver's optimum of the relaxed form, where one is installed, lies between the plan found and the bound. The
// solver stops at its gap of 0.01 %.
func TestBoundAgainstSolver(t *testing.T) {
	cbc, err := exec.LookPath("cbc")
	if err != nil {
		t.Skip("no cbc on this machine; Debian has it as coinor-cbc")
	}
	if testing.Short() {
		t.Skip("takes seconds")
	}
	for seed := range uint64(3) {
		p, _ := invented(t, seed, 2, 5)
		path := filepath.Join(t.TempDir(), "relaxed.mps")
		file, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := WriteMPS(file, p); err != nil {
			t.Fatal(err)
		}
		file.Close()
		out, err := exec.Command(cbc, path, "-seconds", "20", "-ratio", "0.0001", "-solve", "-quit").CombinedOutput()
		m := regexp.MustCompile(`(?m)^Objective value: +(-?[\d.]+)`).FindSubmatch(out)
		if err != nil || m == nil {
			t.Fatalf("cbc: %v\n%s", err, out)
		}
		least, _ := strconv.ParseFloat(string(m[1]), 64)
		found := Find(p, 1, Effort{Steps: 30000})
		t.Logf("two beds, seed %d: plan %.3f, solver %.3f, bound %.3f", seed, found.Value, -least, found.Bound)
		if -least > found.Bound+1e-4 {
			t.Errorf("seed %d: the solver reaches %g, above the bound %g", seed, -least, found.Bound)
		}
		if strings.Contains(string(out), "Result - Optimal solution found") && found.Value > -least*1.0002 {
			t.Errorf("seed %d: a plan of %g above the relaxed optimum %g", seed, found.Value, -least)
		}
	}
}
