package work

import (
	"fmt"
	"testing"
)

// BenchmarkJobs is the jobs of a garden of about 500 plantings in 100 beds.
func BenchmarkJobs(b *testing.B) {
	in := kitchen()
	one := in.Plan.Plantings
	beds := in.Garden.Beds
	in.Plan.Plantings, in.Garden.Beds = nil, nil
	for i := range int64(72) {
		for _, bed := range beds {
			bed.ID += 10 * i
			in.Garden.Beds = append(in.Garden.Beds, bed)
		}
		for _, p := range one {
			p.BedID += 10 * i
			p.Key = fmt.Sprintf("%d-%s", i, p.Key)
			if p.Partner != "" {
				p.Partner = fmt.Sprintf("%d-%s", i, p.Partner)
			}
			in.Plan.Plantings = append(in.Plan.Plantings, p)
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		if len(Jobs(in)) < len(in.Plan.Plantings) {
			b.Fatal("too few jobs")
		}
	}
}
