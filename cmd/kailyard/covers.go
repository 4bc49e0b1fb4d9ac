package main

import (
	"context"

	"kailyard/internal/crop"
)

type coversCmd struct {
	Word string `arg:"" optional:"" help:"A cover's name; default: all."`
}

func (coversCmd) example() string { return "kailyard covers 'cold frame'" }

type coverJSON struct {
	ID       string       `json:"id"`
	Name     string       `json:"name"`
	NightC   float64      `json:"night_gain_c"`
	DayC     float64      `json:"day_gain_c"`
	SoilC    float64      `json:"soil_gain_c"`
	VentCool float64      `json:"vent_cool_crops_c"`
	VentWarm float64      `json:"vent_warm_crops_c"`
	OffC     *float64     `json:"off_nights_c"`
	RoomM    float64      `json:"room_m"`
	Figures  []figureJSON `json:"figures"`
	Cautions []string     `json:"cautions"`
}

// Run prints covers with their figures and sources.
func (c *coversCmd) Run(ctx context.Context, e *env) error {
	covers := crop.Protections()
	if one, err := coverNamed(c.Word); err != nil {
		return err
	} else if one != nil {
		covers = []*crop.Protection{one}
	}
	list := []coverJSON{}
	for _, p := range covers {
		v := coverJSON{
			ID: p.ID, Name: p.Name, NightC: float64(p.Night), DayC: float64(p.Day), SoilC: float64(p.Soil),
			VentCool: float64(p.VentCool), VentWarm: float64(p.VentWarm), RoomM: float64(p.Room), Cautions: orEmpty(p.Cautions),
		}
		if p.Off != nil {
			off := float64(*p.Off)
			v.OffC = &off
		}
		for _, f := range p.Figures {
			v.Figures = append(v.Figures, figureJSON{f.Field, f.Text, f.Source, f.Quality, f.Note})
		}
		list = append(list, v)
	}
	if e.json {
		return e.printJSON(list)
	}
	u := e.units(ctx)
	for _, v := range list {
		e.printf("%s\n", v.Name)
		e.printFigures(v.Figures, u)
	}
	return nil
}
