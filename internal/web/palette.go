package web

import (
	"fmt"
	"strconv"

	"kailyard/internal/crop"
)

// Inks of the pictures. A picture is always drawn on paper, also on a dark screen.
const (
	paper     = "#fdfbf5"
	ink       = "#23261f"
	faintInk  = "#6a6c60"
	ruleInk   = "#cfc8b6"
	weekInk   = "#e9e3d4"
	todayInk  = "#a1260d"
	coldInk   = "#9db9d6"
	soilInk   = "#6b5a43"
	pathGrass = "#eef0e2"
)

// washes are a colour to each family, spread in lightness as well as in hue, so that neighbours stay
// apart for eyes that see red and green alike; glyph and name always say the same.
var washes = map[string]string{
	"Amaryllidaceae":  "#7b6bb0",
	"Apiaceae":        "#d98324",
	"Asteraceae":      "#8fb23a",
	"Brassicaceae":    "#2b7c8c",
	"Fabaceae":        "#c95f86",
	"Cucurbitaceae":   "#e0b020",
	"Solanaceae":      "#a93a2a",
	"Poaceae":         "#8c7a2c",
	"Amaranthaceae":   "#86275a",
	"Lamiaceae":       "#4f9a78",
	"Convolvulaceae":  "#b9683a",
	"Asparagaceae":    "#4d7233",
	"Polygonaceae":    "#d0567c",
	"Rosaceae":        "#cc3f4c",
	"Malvaceae":       "#a274c0",
	"Montiaceae":      "#5aa7b8",
	"Caprifoliaceae":  "#6f8f4f",
	"Boraginaceae":    "#4a6fb3",
	"Hydrophyllaceae": "#5577aa",
}

// wash is the colour of a family.
func wash(family string) string {
	if c, ok := washes[family]; ok {
		return c
	}
	return "#7d7f76"
}

// mix is a colour thinned with paper (or another colour): share 1 is the colour itself.
func mix(colour, with string, share float64) string {
	a, b := channels(colour), channels(with)
	var out [3]int
	for i := range out {
		out[i] = int(float64(a[i])*share + float64(b[i])*(1-share) + .5)
	}
	return fmt.Sprintf("#%02x%02x%02x", out[0], out[1], out[2])
}

func channels(colour string) (out [3]int) {
	for i := range out {
		v, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		if err != nil {
			panic("web: " + colour + " is no colour")
		}
		out[i] = int(v)
	}
	return out
}

// ground is the colour of a bed's soil by the hours of direct sun: the more, the paler.
func ground(hours float64) string {
	share := (hours - 3) / 6
	return mix("#f1e4c9", "#c3bcae", min(1, max(0, share)))
}

// groups is the word and the order in which pages list the sorts of crop.
var groups = []struct {
	group crop.Group
	title string
}{
	{crop.Root, "Roots"}, {crop.Leaf, "Leaves"}, {crop.Brassica, "Brassicas"}, {crop.Allium, "Onions and their kin"},
	{crop.Legume, "Peas and beans"}, {crop.Cucurbit, "Cucumbers and squashes"}, {crop.Nightshade, "Tomatoes and their kin"},
	{crop.Corn, "Corn"}, {crop.Herb, "Herbs"}, {crop.PerennialGroup, "Perennials"}, {crop.Cover, "Cover crops"}, {crop.Other, "Others"},
}
