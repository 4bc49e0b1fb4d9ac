package water

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Who does as told gives the week's depth: what is told for each time, as often as told, over the days the ground is held, within a tenth;
// and never more at once than one watering brings. The words are read back by hand.
func TestObeyedIsEnough(t *testing.T) {
	for depth := 3.0; depth < 90; depth += 1.7 {
		for _, days := range []float64{0, 1, 2, 3, 5, 7} {
			for times := 0.1; times <= 7; times *= 1.13 {
				a := Amount{Water: quantity.Litre(10 * depth), Depth: quantity.Millimetre(depth), Days: days}
				if times > a.Held() || depth > MostAtOnce*a.Held() {
					continue
				}
				a.Times = max(times, depth/MostAtOnce)
				says := a.says(10, garden.Watering{By: garden.ByCan}, garden.Supply{}, quantity.Metric)
				if strings.Contains(says, "once at most") {
					if _, once, _ := strings.Cut(says, "once at most: "); !strings.HasPrefix(once, quantity.Metric.Rain(a.Depth)) || a.Every() < a.Held() {
						t.Errorf("%.1f mm in %g days, %.2f times: %q", depth, a.Held(), a.Times, says)
					}
					continue
				}
				if strings.Contains(says, "hardly") {
					continue
				}
				_, each, ok := strings.Cut(says, ": each time ")
				every := 7.0
				if !ok {
					_, each, _ = strings.Cut(says, "once a week: ")
				} else if _, told, ok := strings.Cut(says, "every "); ok {
					var from, to float64
					switch n, _ := fmt.Sscanf(told, "%f to %f days", &from, &to); {
					case n == 2:
						every = (from + to) / 2
					case strings.HasPrefix(told, "day or two"):
						every = 1.5
					case n == 0 && strings.HasPrefix(told, "day"):
						every = 1
					case strings.Contains(told, " weeks"):
						every = 7 * from
					default:
						every = from
					}
				}
				var mm float64
				if _, err := fmt.Sscanf(each, "%f mm", &mm); err != nil {
					t.Fatalf("%q: %v", says, err)
				}
				if obeyed := mm / every * a.Held(); math.Abs(obeyed-depth) > 0.1*depth+0.6/every*a.Held() {
					t.Errorf("%.1f mm in %g days, %.2f times: %q comes to %.1f mm", depth, a.Held(), a.Times, says, obeyed)
				}
				if mm > MostAtOnce+0.5 {
					t.Errorf("%q would run off", says)
				}
				if !(every > 1 && a.Every() < 1) && (every > 1.4*a.Every()+0.3 || every < a.Every()/1.4-0.3) {
					t.Errorf("every %.2f days: %q", a.Every(), says)
				}
			}
		}
	}
}

// A week in which ground is held for some days has its interval by those: sown on a Friday, sprinkled on Saturday and Sunday, it is sprinkled
// every day and not twice a week. So has the week in which it is cleared.
func TestWeeksHeldInPart(t *testing.T) {
	q := question(t, 0)
	friday := civil.Of(2027, 7, 16)
	q.Stands = []Stand{{Key: "a", Name: "lettuce", BedID: 1, Area: 3, Place: garden.Place{AlongTo: 3, AcrossTo: 1}, Crop: CropOf(catalogue(t, "lettuce-romaine")), From: friday, To: civil.Of(2027, 9, 15), Up: friday + 9, Wets: 1, Waters: true}}
	q.Stands = append(q.Stands, q.Stands[0])
	q.Stands[1].BedID, q.Stands[1].To, q.Stands[1].Up = 2, civil.Of(2027, 8, 25), civil.Of(2027, 8, 30) // seed that has not come up is dug in on a Wednesday
	beds := mustReckon(t, q).Beds
	first, last := WeekNeed{}, WeekNeed{}
	for i, w := range beds[0].Weeks {
		switch w.From {
		case friday - 4:
			first = w
		case civil.Of(2027, 8, 23):
			last = beds[1].Weeks[i]
		}
	}
	if first.Typical.Days != 2 || first.Typical.Every() > 2.01 || first.Typical.Times < 1 {
		t.Errorf("the week it is sown: %+v, every %.1f days", first.Typical, first.Typical.Every())
	}
	if says := first.Typical.says(3, garden.Watering{By: garden.ByCan}, garden.Supply{}, quantity.Metric); !strings.Contains(says, " in 2 days, every ") {
		t.Error(says)
	}
	if last.Dry.Days != 2 || last.Dry.Every() > 4.01 {
		t.Errorf("the week it is cleared: %+v", last.Dry) // the last sprinklings of all are not due before it goes
	}
}
