package fetch

import (
	"context"
	"errors"
	"fmt"
	"os"
	"regexp"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/readings"
	"haulm/internal/weather"
)

const (
	nceiName = "NCEI"
	day      = 24 * time.Hour

	// The lists change when a station opens or closes.
	listsKept = 30 * day
	// The records grow by a day each day.
	recordsKept = 12 * time.Hour

	// The largest there are, with room to grow: inventory 35 MB, list 11 MB,
	// a packed record of 150 years 2 MB (sizes from memory).
	maxInventory = 128 << 20
	maxList      = 64 << 20
	maxRecord    = 32 << 20
)

var stationID = regexp.MustCompile(`^[A-Z]{2}[A-Z0-9_-]{9}$`)

func checkID(id string) error {
	if !stationID.MatchString(id) {
		return fmt.Errorf("%q is no GHCN station; its identifier has eleven characters, such as USW00094728", id)
	}
	return nil
}

// Nearest gives the stations most useful for a place, best first.
func (c *Client) Nearest(ctx context.Context, w Wanted) ([]Station, error) {
	var stations []Station
	err := c.withList(ctx, inventory, func(f *os.File) (err error) {
		stations, err = readInventory(f, w)
		return err
	})
	if err != nil {
		return nil, err
	}
	if len(stations) == 0 {
		return nil, &Error{Kind: Missing, Service: nceiName, What: fmt.Sprintf("no station within %d km has measured minimum and maximum temperatures; go on with the first estimate, or give a record of your own", farthestKM)}
	}
	err = c.withList(ctx, stationList, func(f *os.File) (err error) {
		stations, err = addNames(f, stations, w)
		return err
	})
	return stations, err
}

// Station looks a station up by its identifier, such as USW00094728.
func (c *Client) Station(ctx context.Context, id string) (Station, error) {
	if err := checkID(id); err != nil {
		return Station{}, err
	}
	var s Station
	var found bool
	err := c.withList(ctx, stationList, func(f *os.File) (err error) {
		s, found, err = findStation(f, id)
		return err
	})
	if err == nil && !found {
		err = &Error{Kind: Missing, Service: nceiName, What: "the list has no station " + id + "; leave --station out to see those near you"}
	}
	return s, err
}

// list is one of NCEI's lists of stations.
type list struct {
	name, what string
	limit      int64
}

var (
	inventory   = list{"ghcnd-inventory.txt", "the inventory of stations", maxInventory}
	stationList = list{"ghcnd-stations.txt", "the list of stations", maxList}
)

// withList hands out a list; one that cannot be read is not kept.
func (c *Client) withList(ctx context.Context, l list, use func(*os.File) error) error {
	held, err := c.download(ctx, file{nceiName, l.what, c.options.NCEI + "/" + l.name, l.name, l.limit, listsKept})
	if err != nil {
		return err
	}
	f, err := os.Open(held.Path)
	if err != nil {
		return disk(nceiName, err)
	}
	defer f.Close()
	if err := use(f); err != nil {
		removeNoted(held.Path)
		return badAnswer(nceiName, err.Error()+"; try again", err)
	}
	return nil
}

// Record fetches a station's daily record: the by-station file, packed. Where
// the service does not answer, the copy kept from before stands in and the
// Copy says so.
func (c *Client) Record(ctx context.Context, s Station) (*weather.Record, *readings.Report, Copy, error) {
	if err := checkID(s.ID); err != nil {
		return nil, nil, Copy{}, err
	}
	name := s.ID + ".csv.gz"
	held, err := c.download(ctx, file{nceiName, "the record of " + s.ID, c.options.NCEI + "/by_station/" + name, name, maxRecord, recordsKept})
	if err != nil {
		return nil, nil, held, err
	}
	// The station's day may be one ahead of this machine's.
	tomorrow := calendar.FromTime(c.options.Now()).Add(1)
	rec, report, err := readings.ReadFile(held.Path, readings.Options{Today: tomorrow})
	if err == nil && rec.Station != s.ID {
		err = errors.New("it is the record of " + rec.Station)
	}
	if err != nil {
		removeNoted(held.Path)
		return nil, nil, held, badAnswer(nceiName, "what came cannot be used: "+err.Error(), err)
	}
	if s.Name != "" {
		rec.Name, rec.Site = s.Name, s.Site
		report.HasSite = true
	}
	return rec, report, held, nil
}
