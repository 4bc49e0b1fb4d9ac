package book

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

// TestPackedAir: a year with humidity and wind comes back as it went in, one without is packed as it always was, and a
// year that is cut off is refused.
func TestPackedAir(t *testing.T) {
	first := civil.Of(2027, 1, 1)
	plain := []weather.Day{{Date: first, Min: 1, Max: 9, HasTemp: true}, {Date: first + 1, Rain: 4, HasRain: true}}
	if packed := packDays(plain); len(packed) != 2*dayBytes || packed[0]&0x80 != 0 {
		t.Errorf("days without air are packed into %d bytes", len(packed))
	}
	airy := append([]weather.Day(nil), plain...)
	airy[1].Air = weather.Air{HumidityMax: 91, Wind: 2.5, Has: weather.HasHumidityMax | weather.HasWind}
	for _, days := range [][]weather.Day{plain, airy} {
		packed := packDays(days)
		back, err := unpackDays(first, packed)
		if err != nil || len(back) != len(days) {
			t.Fatalf("%d days back, %v", len(back), err)
		}
		for i := range days {
			if back[i] != days[i] {
				t.Errorf("%+v comes back as %+v", days[i], back[i])
			}
		}
		if _, err := unpackDays(first, packed[:len(packed)-1]); err == nil {
			t.Error("a year cut off was read")
		}
	}
}
