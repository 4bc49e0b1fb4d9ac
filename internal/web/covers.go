package web

import (
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/growth"
	"kailyard/internal/season"
)

// coverView is one method of a crop under one cover, against the same in the open.
type coverView struct {
	Cover, Gain string
	Source      string // of the gain by night
	Has         bool   // the garden has it
	Way         string
	Windows     []coverWindow
	None        string
}

type coverWindow struct{ Span, Against, Ready string }

// covers are the windows of a crop under every cover it has room under.
func (s *site) covers(now *season.Result, c *crop.Crop, share float64) []coverView {
	return remember(s, now, fmt.Sprintf("covers %s %v", c.ID, share), func() []coverView {
		var views []coverView
		u := now.Garden.Site.Units
		for _, t := range now.CropUnder(c.ID) {
			p := t.Option.Protection
			v := coverView{
				Cover: upper(p.Name), Has: now.Garden.Site.Has(p.ID), Way: put(c.Methods[t.Option.Method].Way),
				Gain: fmt.Sprintf("%s by night, %s by day", u.TemperatureChange(p.Night), u.TemperatureChange(p.Day)),
			}
			for _, f := range p.Figures {
				if f.Field == "gain.night" {
					v.Source = f.Source
				}
			}
			bare := now.Table(c.ID, t.Option.Method)
			open := bare.Windows(share)
			for _, w := range t.Windows(share) {
				v.Windows = append(v.Windows, coverWindow{spanText(w.Span), against(w, open), readyText(t, bare, w, open)})
			}
			if len(v.Windows) == 0 {
				v.None = "no window"
			}
			views = append(views, v)
		}
		return views
	})
}

func spanText(span civil.Span) string {
	if span.From == span.To {
		return span.From.Short()
	}
	return span.String()
}

// against says how a window under a cover differs from those in the open.
func against(w growth.Window, open []growth.Window) string {
	earlier, later, meets := growth.Widens(w, open)
	if !meets {
		return "no window in the open at that time"
	}
	move := func(days int, what string) string {
		switch {
		case days == 0:
			return what + " the same day"
		case days < 0:
			return fmt.Sprintf("%s %s later", what, plural(-days, "day", "days"))
		}
		return fmt.Sprintf("%s %s earlier", what, plural(days, "day", "days"))
	}
	return move(earlier, "opens") + ", " + move(-later, "closes")
}

// readyText is how much sooner the harvest comes under a cover, from the first day that does there and in the open.
func readyText(t, bare *growth.Table, w growth.Window, open []growth.Window) string {
	for _, o := range open {
		if !o.Meets(w.Span) {
			continue
		}
		day := max(o.From, w.From)
		if days := season.Sooner(t, bare, day); days != nil {
			return sooner(*days) + ", from " + day.Short()
		}
	}
	return ""
}

// underText is what a planting stands under; empty in the open.
func underText(cover string) string {
	if p, _ := crop.FindProtection(cover); p != nil {
		return "under " + p.Under()
	}
	return ""
}
