package crop

import (
	"reflect"
	"strings"
)

// datum is one value as a file writes it.
type datum struct {
	V    any     `toml:"v"`    // "18–24 in", 0.7, or a list of numbers
	Unit string  `toml:"unit"` // when not in V
	Src  string  `toml:"src"`
	Q    Quality `toml:"q"`
	Note string  `toml:"note"`
}

// crop is a crop's file, field by field; the names in the tags are the file's form.
type crop struct {
	Kind      string   `toml:"kind"`
	Type      string   `toml:"type"`
	Group     Group    `toml:"group"`
	Botanical string   `toml:"botanical"`
	Family    string   `toml:"family"`
	Aliases   []string `toml:"aliases"`
	Perennial bool     `toml:"perennial"`
	Biennial  bool     `toml:"biennial"`

	Emergence struct {
		Soil   *datum `toml:"soil"`
		Days   *datum `toml:"days"`
		Least  *datum `toml:"least"`
		Most   *datum `toml:"most"`
		GiveUp *datum `toml:"give_up"`
	} `toml:"emergence"`
	Cardinal struct {
		Base    *datum `toml:"base"`
		Optimum *datum `toml:"optimum"`
		Max     *datum `toml:"max"`
	} `toml:"cardinal"`
	Methods []method `toml:"method"`
	Spacing struct {
		InRow       *datum `toml:"in_row"`
		BetweenRows *datum `toml:"between_rows"`
		SowApart    *datum `toml:"sow_apart"`
		RowWidth    *datum `toml:"row_width"`
	} `toml:"spacing"`
	Plant struct {
		Spread *datum `toml:"spread"`
		Height *datum `toml:"height"`
		Root   *datum `toml:"root"`
	} `toml:"plant"`
	Hardiness struct {
		Class       string `toml:"class"`
		Seedling    *datum `toml:"seedling"`
		Established *datum `toml:"established"`
		Mature      *datum `toml:"mature"`
		Dormant     *datum `toml:"dormant"`
		Hardened    *datum `toml:"hardened"`
	} `toml:"hardiness"`
	Heat struct {
		BoltAbove     *datum `toml:"bolt_above"`
		BoltDays      *datum `toml:"bolt_days"`
		SetDayAbove   *datum `toml:"set_day_above"`
		SetNightAbove *datum `toml:"set_night_above"`
		SetNightBelow *datum `toml:"set_night_below"`
	} `toml:"heat"`
	DayLength struct {
		BulbsAbove *datum `toml:"bulbs_above"`
		BoltsAbove *datum `toml:"bolts_above"`
	} `toml:"daylength"`
	Light struct {
		Needs *datum `toml:"needs"`
		Least *datum `toml:"least"`
	} `toml:"light"`
	Water struct {
		KcInitial *datum `toml:"kc_initial"`
		KcMid     *datum `toml:"kc_mid"`
		KcEnd     *datum `toml:"kc_end"`
	} `toml:"water"`
	Harvest struct {
		Manner    Manner `toml:"manner"`
		Part      string `toml:"part"`
		Span      *datum `toml:"span"`
		Yield     *datum `toml:"yield"`
		Store     *datum `toml:"store"`
		Unit      string `toml:"unit"`
		UnitMass  *datum `toml:"unit_mass"`
		FirstYear *datum `toml:"first_year"`
		FromBloom *datum `toml:"from_bloom"`
	} `toml:"harvest"`
	Seed struct {
		Count       *datum `toml:"count"`
		Keeps       *datum `toml:"keeps"`
		Germination *datum `toml:"germination"`
		Sets        *datum `toml:"sets"`
	} `toml:"seed"`
	PH struct {
		Range *datum `toml:"range"`
	} `toml:"ph"`
	Rotation struct {
		Years *datum `toml:"years"`
	} `toml:"rotation"`
	Practice practice `toml:"practice"`
}

type method struct {
	Way          Way    `toml:"way"`
	Days         *datum `toml:"days"`
	Reference    *datum `toml:"reference"`
	WeeksIndoors *datum `toml:"weeks_indoors"`
	Hardening    *datum `toml:"hardening"`
	Depth        *datum `toml:"depth"`
	SoilAtLeast  *datum `toml:"soil_at_least"`
	AirAtLeast   *datum `toml:"air_at_least"`
}

type practice struct {
	Sowing     string   `toml:"sowing"`
	Marker     bool     `toml:"marker"`
	SlowRow    bool     `toml:"slow_row"`
	Inoculant  bool     `toml:"inoculant"`
	Collar     bool     `toml:"collar"`
	Support    string   `toml:"support"`
	EarthUp    bool     `toml:"earth_up"`
	Thin       bool     `toml:"thin"`
	SideDress  string   `toml:"side_dress"`
	Block      bool     `toml:"block"`
	Vine       bool     `toml:"vine"`
	Succession *datum   `toml:"succession"`
	Jobs       []string `toml:"jobs"`
	Cautions   []string `toml:"cautions"`
}

// fieldNames are the names a file may use, for saying what an unknown one may have meant.
func fieldNames() []string {
	var names []string
	var walk func(t reflect.Type)
	walk = func(t reflect.Type) {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct {
			return
		}
		for i := range t.NumField() {
			if name := t.Field(i).Tag.Get("toml"); name != "" && !strings.Contains(name, ",") {
				names = append(names, name)
				walk(t.Field(i).Type)
			}
		}
	}
	walk(reflect.TypeFor[crop]())
	return names
}
