package web

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

// feedingView is how a bed is fed in a season.
type feedingView struct {
	Says     string
	Needs    []needRow
	Sum      []sumRow
	Credits  []creditLine
	Base     []dressingView // of the whole ground
	Beside   []dressingView // of single plantings, from today on
	Earlier  []dressingView // whose day is past by more than a fortnight
	How      []string       // how what stands beside plants is given, each way once
	Starters []starterLine
	Mix      []string // of the weak feed
	Reasons  []reasonLine
	Cautions []string
}

// needRow is what one planting asks for.
type needRow struct{ Crop, Href, N, P, K string }

// sumRow is one of the three plant foods through the whole reckoning.
type sumRow struct{ Food, Need, There, Brought, Short, Over string }

type creditLine struct {
	What, Brings string
	Reasons      []reasonLine
}

type dressingView struct {
	When, Stage, For, How string
	Parts                 []dressingPart
	Reasons               []reasonLine
}

type dressingPart struct{ Name, Mass, ByHand, Row, Plant, Done string }

type starterLine struct{ When, Says string }

func feedingViewOf(known soilKnown, b season.BedGround) *feedingView {
	f := b.Feeding
	if f == nil {
		return nil
	}
	u := known.ground.Weighs
	v := feedingView{Reasons: reasons(f.Reasons), Cautions: uppers(f.Cautions), Says: feedingSays(f)}
	for _, part := range f.Need.Parts {
		row := needRow{Crop: upper(part.Crop), N: small(u, part.Mass.N), P: small(u, part.Mass.P2O5), K: small(u, part.Mass.K2O)}
		if part.Key != "" && known.now != nil {
			row.Href = "/planting/" + part.Key
		}
		v.Needs = append(v.Needs, row)
	}
	area := quantity.Kilogram(f.Need.Planted)
	credit := soil.SumOf(f.Credits)
	for _, food := range []struct {
		name                 string
		need, there          quantity.Kilogram
		brought, unmet, over quantity.KilogramPerSquareMetre
	}{
		{"Nitrogen, N", f.Need.Total.N, credit.N, f.Mix.Supplied.N, f.Mix.Unmet.N, f.Mix.Excess.N},
		{"Phosphate, P₂O₅", f.Need.Total.P2O5, credit.P2O5, f.Mix.Supplied.P2O5, f.Mix.Unmet.P2O5, f.Mix.Excess.P2O5},
		{"Potash, K₂O", f.Need.Total.K2O, credit.K2O, f.Mix.Supplied.K2O, f.Mix.Unmet.K2O, f.Mix.Excess.K2O},
	} {
		v.Sum = append(v.Sum, sumRow{food.name, small(u, food.need), small(u, food.there), small(u, quantity.Kilogram(food.brought)*area), small(u, quantity.Kilogram(food.unmet)*area), small(u, quantity.Kilogram(food.over)*area)})
	}
	for _, c := range f.Credits {
		v.Credits = append(v.Credits, creditLine{upper(c.What), massSays(u, c.Mass), reasons(c.Reasons)})
	}
	for _, d := range f.Dressings {
		v.take(d, dressingViewOf(known, b, d), known.ground.Day)
	}
	for _, st := range f.Starters {
		if st.Date < known.ground.Day-latelyDays {
			continue
		}
		v.Starters = append(v.Starters, starterLine{windowSays(st.Date, st.Date, known.ground.Day), fmt.Sprintf("%s, %s: %s", upper(st.Crop), plural(st.Plants, "plant", "plants"), u.Volume(st.Solution))})
		if mix := upper(st.Material) + ": " + st.PerGallon + "."; !slices.Contains(v.Mix, mix) {
			v.Mix = append(v.Mix, mix)
		}
	}
	return &v
}

// latelyDays is how long ago a dressing may have been due and still be shown among those to come.
const latelyDays = 14

// take puts a dressing where the page shows it.
func (v *feedingView) take(d soil.Dressing, view dressingView, day civil.Date) {
	switch {
	case d.Date != 0 && d.Date < day-latelyDays:
		v.Earlier = append(v.Earlier, view)
	case d.Planting == "":
		v.Base = append(v.Base, view)
	default:
		v.Beside = append(v.Beside, view)
		if !slices.Contains(v.How, view.How) {
			v.How = append(v.How, view.How)
		}
	}
}

func feedingSays(f *soil.Prescription) string {
	switch {
	case f.Need.Total == (soil.Mass{}):
		return "What is planned here asks for nothing."
	case len(f.Dressings) == 0:
		return "The ground has enough already: nothing is bought for it."
	}
	tested := "Classes by the soil test."
	if !f.Need.Phosphorus.Tested && !f.Need.Potash.Tested {
		tested = "Phosphorus and potassium were not tested, so middling ground is taken."
	}
	return fmt.Sprintf("Phosphorus is %s, potassium %s. %s", f.Need.Phosphorus.Class, f.Need.Potash.Class, tested)
}

// small is a mass, or a dash for what is not worth weighing.
func small(u quantity.System, mass quantity.Kilogram) string {
	if mass < .0005 {
		return "–"
	}
	return weighed(u, mass)
}

// pinch is less than kitchen scales show.
const pinch quantity.Kilogram = .0015

// weighed is a mass to two figures, which is as near as anyone weighs it out and nearer than it is known.
func weighed(u quantity.System, mass quantity.Kilogram) string {
	if mass < pinch {
		return "a pinch"
	}
	return u.RoughMass(mass)
}

// bulk is a loose volume to two figures.
func bulk(l quantity.Litre, u quantity.System) string {
	return soil.Bulk(quantity.Litre(quantity.TwoFigures(float64(l))), u)
}

// uppers are sentences that begin with a capital.
func uppers(list []string) []string {
	out := make([]string, len(list))
	for i, says := range list {
		out[i] = upper(says)
	}
	return out
}

func massSays(u quantity.System, m soil.Mass) string {
	var says []string
	for _, food := range []struct {
		name string
		mass quantity.Kilogram
	}{{"nitrogen", m.N}, {"phosphate", m.P2O5}, {"potash", m.K2O}} {
		if food.mass >= .0005 {
			says = append(says, small(u, food.mass)+" of "+food.name)
		}
	}
	if len(says) == 0 {
		return "next to nothing"
	}
	return joinWords(says)
}

func dressingViewOf(known soilKnown, b season.BedGround, d soil.Dressing) dressingView {
	u, length := known.ground.Weighs, known.garden.Site.Units
	v := dressingView{Stage: upper(d.Stage), For: "on the planted ground, " + length.Area(d.Area), How: upper(d.How) + ".", Reasons: reasons(d.Reasons)}
	if d.Date != 0 {
		v.When = windowSays(d.Date, d.Date, known.ground.Day)
	} else if d.Planting == "" {
		v.When = "Whenever the bed is planted; nothing is planned here yet"
	}
	if d.Crop != "" {
		v.For, v.Stage = upper(d.Crop), d.Stage
	}
	for _, part := range d.Parts {
		one := dressingPart{Name: part.Offer.Name, Mass: weighed(u, part.Mass), ByHand: "about " + part.ByHand.String()}
		if part.Mass >= pinch {
			one.Done = putLink(b.Bed.ID, part.Offer.Material.ID, weighed(u, part.Mass), "")
		}
		if part.PerRow > 0 {
			metre, word := quantity.Kilogram(1), "a metre of row"
			if length == quantity.US {
				metre, word = 10*quantity.MetresPerFoot, "10 ft of row"
			}
			if perRow := part.PerRow * metre; perRow >= pinch {
				one.Row = weighed(u, perRow) + " on " + word
			}
		}
		if part.PerPlant > 0 {
			one.Plant = soil.ByHand(part.PerPlant, part.Offer.Material, u, 0).String() + " to a plant"
		}
		v.Parts = append(v.Parts, one)
	}
	return v
}
