package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math"
	"strconv"

	"haulm/internal/readings"
	"haulm/internal/weather"
)

// hoursKeptDays is how many of the last days keep their hours: what the rules
// of disease look at, and the season before.
const hoursKeptDays = 400

// SaveHours keeps measured hours beside the record of a name, in place of any
// kept before: only those of the last hoursKeptDays, as plain CSV.
func (s *Store) SaveHours(ctx context.Context, name string, h *weather.Hourly) error {
	what := fmt.Sprintf("keeping the hours of %q", name)
	if h == nil || h.Days() == 0 || h.HumidityPC == nil {
		return fmt.Errorf("%s: there are none with temperature and humidity", what)
	}
	csv := hoursCSV(h)
	packed, err := pack(csv)
	if err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	return s.inTx(ctx, what, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO weather_hours VALUES (?,?,?,?)", name, h.Source, checksum(csv), packed)
		return err
	})
}

// hoursCSV writes hours as readings.ReadHourly reads them: each named by its
// end.
func hoursCSV(h *weather.Hourly) []byte {
	var b bytes.Buffer
	b.WriteString("date,temp_c,rh_pct,rain_mm\n")
	first := max(0, h.Days()-hoursKeptDays) * weather.DayHours
	value := func(series []float64, i int) string {
		if series == nil || math.IsNaN(series[i]) {
			return ""
		}
		return strconv.FormatFloat(series[i], 'f', -1, 64)
	}
	for i := first; i < len(h.TempC); i++ {
		day, end := h.Start.Add(i/weather.DayHours), i%weather.DayHours+1
		if end == weather.DayHours {
			day, end = day.Add(1), 0
		}
		if value(h.TempC, i)+value(h.HumidityPC, i) == "" {
			continue
		}
		fmt.Fprintf(&b, "%sT%02d:00,%s,%s,%s\n", day, end, value(h.TempC, i), value(h.HumidityPC, i), value(h.RainMM, i))
	}
	return b.Bytes()
}

// LoadHours reads the hours kept beside a record; nil where there are none.
func (s *Store) LoadHours(ctx context.Context, name string) (*weather.Hourly, error) {
	csv, source, err := s.HoursText(ctx, name)
	if err != nil || csv == nil {
		return nil, err
	}
	h, _, err := readings.ReadHourly(bytes.NewReader(csv), "kept hours", readings.HourlyOptions{})
	if err != nil {
		return nil, fmt.Errorf("hours of %q: %w", name, err)
	}
	h.Source = source
	return h, nil
}

// HoursText is the hours kept beside a record as plain CSV, and where they are
// from; nil where there are none.
func (s *Store) HoursText(ctx context.Context, name string) (csv []byte, source string, err error) {
	var sum string
	var packed []byte
	err = s.read.QueryRowContext(ctx, "SELECT source, sha256, csv_gz FROM weather_hours WHERE name = ?", name).Scan(&source, &sum, &packed)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return nil, "", nil
	case err != nil:
		return nil, "", fmt.Errorf("hours of %q: %w", name, s.explain(err))
	}
	csv, err = unpack(packed)
	if err != nil || checksum(csv) != sum {
		return nil, "", &Error{Damaged, s.path, fmt.Sprintf("the hours of its weather record %q are damaged; give them again", name), err}
	}
	return csv, source, nil
}

// HoursMark tells one set of kept hours from the next; "" where there are none.
func (s *Store) HoursMark(ctx context.Context, name string) (string, error) {
	var sum string
	err := s.read.QueryRowContext(ctx, "SELECT sha256 FROM weather_hours WHERE name = ?", name).Scan(&sum)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return "", fmt.Errorf("hours of %q: %w", name, s.explain(err))
	}
	return sum, nil
}

// DropHours takes the hours kept beside a record away; an Error of kind Missing
// where there are none.
func (s *Store) DropHours(ctx context.Context, name string) error {
	return s.inTx(ctx, fmt.Sprintf("taking the hours of %q away", name), func(tx *sql.Tx) error {
		dropped, err := drop(ctx, tx, "DELETE FROM weather_hours WHERE name = ?", name)
		if err != nil || dropped {
			return err
		}
		return s.missing("no hours are kept with the weather record %q", name)
	})
}
