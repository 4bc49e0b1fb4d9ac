package work

import (
	"fmt"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// storable is the days of keeping from which a crop is laid up for later.
const storable = 60

// standing is how long a crop that is taken in one go may wait for it; common practice.
func standing(c *crop.Crop) string {
	part, days := c.Harvest.Part, c.Harvest.StoreDays
	switch {
	case c.Kind == "sweet potato":
		return "It grows on till the soil cools: lift all of it in one go before frost."
	case part == "tuber" && days < storable:
		return "New ones are lifted as wanted, a plant at a time, and eaten within the week; the rest when the tops yellow."
	case part == "tuber":
		return "It stands in dry soil for some weeks after the tops die: take it up in one go, before hard frost and autumn rain."
	case c.Kind == "cabbage" && days < storable:
		return "A firm head splits after rain: cut it within two or three weeks, or give the plant a quarter turn, which tears some roots and holds it."
	case part == "head" && days >= storable:
		return "It stands some weeks in the cool: take it in one go before hard frost."
	case part == "bulb" && days >= storable:
		return "Left in the ground once the tops are down, it roots again or rots: take it up in one go in dry weather."
	case part == "fruit" && days >= storable:
		return "It ripens on the vine till the first frost: take all of it before that."
	case part == "seed" && days >= storable:
		return "Take it before birds and rain do."
	case days >= 30:
		return "It stands two or three weeks once ready, no longer."
	}
	return "It does not stand long once ready: take it within its week or two."
}

// keeping is how a storable crop is cured and kept; common practice, the temperatures from memory, as
// growers' handbooks print them.
func (d *desk) keeping(c *crop.Crop) string {
	t := func(v quantity.Celsius) string { return d.temperature(v) }
	switch {
	case c.Kind == "potato":
		return fmt.Sprintf("To keep: let them dry an hour or two, cure them a fortnight at about %s, then store at about %s, airy and quite dark; light turns them green.", t(15), t(5))
	case c.Kind == "sweet potato":
		return fmt.Sprintf("To keep: after curing, store dry at about %s; below %s they spoil.", t(14), t(10))
	case c.Kind == "garlic" || c.Kind == "onion" || c.Kind == "shallot":
		return "To keep: when the necks are dry and the skins rustle, hang them in nets or plaits, dry, cool and airy; thick necks are eaten first."
	case c.Group == crop.Cucurbit:
		return fmt.Sprintf("To keep: cure ten days in sun or a warm room (about %s), then store on a dry shelf at about %s, none touching.", t(27), t(12))
	case c.Kind == "cabbage" || c.Kind == "chinese cabbage" || c.Harvest.Part == "head":
		return fmt.Sprintf("To keep: no curing; trim to sound leaves and store cold and damp, a little over %s, on slats or hung by the root.", t(0))
	case c.Harvest.Manner == crop.Keeps && c.Harvest.Part == "root":
		return fmt.Sprintf("To keep: no curing; twist the tops off, do not wash, and lay them in boxes of damp sand, a little over %s.", t(0))
	case c.Kind == "leek":
		return "To keep: best left in the ground; before it freezes hard, heel them into a trench or a box of damp sand by the house."
	case c.Harvest.Part == "seed":
		return "To keep: hang the heads in a dry, airy place till the seed rubs out, then close it in tins against mice."
	}
	return ""
}
