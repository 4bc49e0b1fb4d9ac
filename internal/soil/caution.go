package soil

// cautionTexts are the cautions that materials name by key. Each says what harms, what to wear or do,
// and leaves the rest to the label and to local rules.
var cautionTexts = map[string]string{
	"lime-dust":        "Lime dust burns eyes and lungs: still weather, goggles, gloves and a dust mask; wash it off skin; follow the label.",
	"lime-caustic":     "Hydrated lime is caustic: it burns wet skin, eyes and leaves. Never with manure or ammonium fertiliser; wait two weeks or more before sowing; follow the label.",
	"lime-quick":       "Quicklime heats and spits when wet and burns skin and eyes: leave it to people trained and dressed for it.",
	"ash":              "Only ash of clean, untreated wood, no coal, briquettes, painted or treated timber; keep it off seedlings and leaves; it is caustic: gloves, goggles, dust mask; let embers die for days first.",
	"sulfur-dust":      "Sulfur dust stings eyes and lungs and can burn: still weather, goggles, gloves and a dust mask; no sparks or smoking; follow the label.",
	"iron-sulfate":     "Iron sulfate stains and hurts eyes and, swallowed, a child: gloves, goggles, kept locked; follow the label.",
	"aluminium":        "Aluminium sulfate stings eyes and skin, and in acid ground harms roots: gloves and goggles; follow the label.",
	"fertiliser-burn":  "Fertiliser salts burn roots and leaves: keep off wet leaves and 10 cm (4 in) from stems, water in, never more than the rate; gloves; follow the label.",
	"fertiliser-store": "Keep fertiliser dry, closed and labelled, away from fuel, heat, seed, pesticides and children.",
	"ammonia":          "Gives off ammonia: never next to seed; work in or water in at once.",
	"ammonium-nitrate": "Ammonium nitrate is an oxidiser: never near fuel, heat, oil or sawdust; local rules on buying and keeping it apply.",
	"meal-dust":        "Meals are dusty and draw dogs and vermin: dust mask, worked in at once, kept closed from pets.",
	"raw-manure":       "Raw manure can carry germs: dug in at least 120 days before harvest of what touches the soil and 90 days of what does not; gloves, washed hands; never while a crop eaten raw stands.",
	"poultry-burn":     "Fresh poultry manure burns plants: let it compost or dig it in months ahead; its dust can carry disease: dust mask, damp it down.",
	"swine":            "Pig, dog and cat manure can carry parasites of people: not for ground that grows food.",
	"herbicide":        "Hay, straw, grass and the manure of animals that ate them can carry weedkiller that stunts beans and tomatoes: ask where it comes from, and grow a few beans in it first.",
	"salts":            "May be salty: no more than 2.5 cm (1 in) a year on salty ground, and not around seedlings.",
	"peat-dust":        "Dry peat is dusty: wet it first, dust mask; wash hands.",
	"wood-dust":        "Fine wood dust harms lungs: dust mask; never from treated wood or walnut.",
	"mouldy":           "Mouldy hay and straw give off spores that harm lungs: wet it first, dust mask.",
}

// The cautions that doses carry whatever they are made of.
const (
	lightLoads = "Bags are heavy: lift with the legs, take part loads, share the load."
)
