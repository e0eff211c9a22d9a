package app

import (
	"errors"
	"fmt"

	"haulm/internal/crop"
	"haulm/internal/grow"
	"haulm/internal/weather"
)

// Weather is a record made ready: as measured, mended, and laid out to grow in.
type Weather struct {
	Measured *weather.Record
	Mended   *weather.Record
	Gaps     weather.Gaps
	Climate  *grow.Climate
}

// Prepare mends a record's gaps and lays it out for growing.
func Prepare(rec *weather.Record, catalogue *crop.Catalogue) (*Weather, error) {
	if rec.Days() == 0 {
		return nil, errors.New("the weather record has no days")
	}
	mended, gaps := weather.Fill(rec, weather.WMORules())
	return &Weather{
		Measured: rec, Mended: mended, Gaps: gaps,
		Climate: grow.NewClimate(mended, catalogue.Constants),
	}, nil
}

// SiteOptions are what a person says of a record's site; nil where they say
// nothing and the record's own figure stands.
type SiteOptions struct {
	LatDeg, LonDeg, ElevM *float64
}

// Apply puts the person's figures over the record's.
func (o SiteOptions) Apply(rec *weather.Record) error {
	if o.LatDeg != nil {
		rec.Site.LatDeg = *o.LatDeg
	}
	if o.LonDeg != nil {
		rec.Site.LonDeg = *o.LonDeg
	}
	if o.ElevM != nil {
		rec.Site.ElevM = *o.ElevM
	}
	return checkPlace(rec.Site)
}

// checkPlace says which of a site's degrees cannot be.
func checkPlace(s weather.Site) error {
	switch {
	case s.OnEarth():
		return nil
	case weather.Site{LatDeg: s.LatDeg}.OnEarth():
		return fmt.Errorf("longitude %g is not between -180 and 180", s.LonDeg)
	}
	return fmt.Errorf("latitude %g is not between -90 and 90", s.LatDeg)
}
