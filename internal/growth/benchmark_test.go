package growth

import (
	"runtime"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// manyOptions makes options with figures of their own: half of them share nothing with another but the form.
func manyOptions(n int) []Option {
	var out []Option
	for k := 0; len(out) < n; k++ {
		for _, base := range testCrops() {
			c := *base
			shift := quantity.Celsius(k) / 10
			c.Cardinal.Base += shift
			c.Hardiness.Established -= shift
			c.Emergence.Points = append([]crop.EmergencePoint(nil), base.Emergence.Points...)
			c.Emergence.Points[0].Days += float64(k)
			for m := range c.Methods {
				out = append(out, Option{Crop: &c, Method: m})
			}
		}
	}
	return out[:n]
}

// BenchmarkTabulate200x365x30 runs 200 crop-and-method options (34 sets of five invented crops, none with the
// figures of another) from 365 start days through 30 weather years.
func BenchmarkTabulate200x365x30(b *testing.B) {
	c := coldWinters.climate(30, 1)
	options := manyOptions(200)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for b.Loop() {
		Tabulate(c, options)
	}
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(200*365*30*b.N)/b.Elapsed().Seconds(), "planting-years/s")
	b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/float64(b.N)/1e6, "MB/run")
}

// BenchmarkTabulateCatalogue runs every crop of the catalogue by every method through 30 weather years.
func BenchmarkTabulateCatalogue(b *testing.B) {
	c := coldWinters.climate(30, 1)
	var options []Option
	for _, k := range crop.Default().All() {
		for m := range k.Methods {
			options = append(options, Option{Crop: k, Method: m})
		}
	}
	for b.Loop() {
		Tabulate(c, options)
	}
	b.ReportMetric(float64(len(options)*365*30*b.N)/b.Elapsed().Seconds(), "planting-years/s")
	b.ReportMetric(float64(len(options)), "options")
}

// BenchmarkTabulateUnderCovers runs the same number of options, half of them under one of three covers.
func BenchmarkTabulateUnderCovers(b *testing.B) {
	c := coldWinters.climate(30, 1)
	options := manyOptions(100)
	covers := crop.Protections()[:3]
	for k, o := range manyOptions(100) {
		o.Protection = covers[k%3]
		options = append(options, o)
	}
	for b.Loop() {
		Tabulate(c, options)
	}
	b.ReportMetric(float64(len(options)*365*30*b.N)/b.Elapsed().Seconds(), "planting-years/s")
}
