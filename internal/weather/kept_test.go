package weather

import (
	"slices"
	"testing"
)

func TestYearRuns(t *testing.T) {
	for want, years := range map[string][]int{
		"": nil, "1996": {1996}, "1996–1997": {1996, 1997}, "1996–1998, 2004": {1996, 1997, 1998, 2004}, "1, 3, 5–6": {1, 3, 5, 6},
	} {
		if got := YearRuns(years); got != want {
			t.Errorf("%v are %q, want %q", years, got, want)
		}
	}
}

func TestHolesOfWhatWasFetched(t *testing.T) {
	f := Fetched{Years: []FetchedYear{{Year: 1998, Asked: 9}, {Year: 1999, Days: 365, NoTemperature: 3, Asked: 7}, {Year: 2002, Days: 365, NoTemperature: 4}}}
	unasked, empty, days := f.Holes()
	if !slices.Equal(unasked, []int{2000, 2001}) || !slices.Equal(empty, []int{1998}) || days != 7 || f.LastAsked() != 9 {
		t.Errorf("%v, %v, %d, %v", unasked, empty, days, f.LastAsked())
	}
	if unasked, empty, days = (Fetched{}).Holes(); unasked != nil || empty != nil || days != 0 {
		t.Errorf("of nothing: %v, %v, %d", unasked, empty, days)
	}
}
