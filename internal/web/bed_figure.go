package web

import (
	"html/template"
	"math"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/figure"
	"haulm/internal/garden"
)

const phonePX = figure.PhoneWidthPX

// bedBlock draws a place from above on a day. y may be nil: bare ground.
func (p *Pages) bedBlock(y *cropping.Year, g *garden.Garden, place garden.Place, day calendar.Date, level int) template.HTML {
	wide := bedFigure(y, place, day)
	narrow := wide
	narrow.WidthPX = phonePX
	return block(wide, narrow, level)
}

func bedFigure(y *cropping.Year, place garden.Place, day calendar.Date) figure.BedOnDay {
	b := figure.BedOnDay{Frame: figure.Frame{ID: "bed"}, Place: place.Name, Day: day, LengthM: place.LengthM, WidthM: place.WidthM,
		BearingDeg: math.NaN()} // the garden does not know how its beds lie
	if place.Kind == garden.Pots {
		b.LengthM, b.WidthM = float64(place.LengthCM())/100, garden.PotPitchCM/100.0
	}
	if y == nil {
		return b
	}
	for _, stand := range app.StandsOn(y, place.Name, day) {
		b.Crops = append(b.Crops, bedCrop(&y.Plantings[stand.No], stand))
	}
	return b
}

func bedCrop(p *cropping.Planting, stand app.Stand) figure.BedCrop {
	c := figure.BedCrop{
		Label: p.Crop.Name, Note: stand.Stage, Href: plantingHref(stand.No), Family: p.Crop.Family,
		FromM: float64(p.FromCM) / 100, ToM: float64(p.ToCM) / 100, SpreadM: stand.SpreadM,
	}
	if p.Layout.Clumps > 0 {
		c.Clumped = countWords(p)
	}
	for _, at := range p.Layout.At {
		c.Plants = append(c.Plants, figure.Station{AlongM: c.FromM + at.AlongCM/100, AcrossM: at.AcrossCM / 100})
	}
	return c
}
