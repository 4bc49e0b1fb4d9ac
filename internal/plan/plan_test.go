package plan

import (
	"math/rand/v2"
	"testing"
)

func TestSmoke(t *testing.T) {
	for seed := range 60 {
		tr := randomTrial(rand.New(rand.NewPCG(uint64(seed), 1)))
		p, err := tr.plan()
		if err != nil {
			t.Fatal(seed, err)
		}
		t.Log(seed, len(p.Plantings), p.Value)
	}
}
