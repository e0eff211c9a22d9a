package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/readings"
	"haulm/internal/weather"
)

// maxRecordBytes bounds a record once unpacked: two centuries of days with
// every column take a twentieth of it.
const maxRecordBytes = 256 << 20

// RecordInfo describes a weather record in the file.
type RecordInfo struct {
	Name      string // what garden.Garden.WeatherRef calls it
	Title     string
	Source    string
	Estimated bool
	Site      weather.Site
	Start     calendar.Date
	Days      int
	SHA256    string // of its CSV
}

// SaveRecord keeps rec under name, in place of any of that name. It is kept
// as the plain CSV of readings.WriteCSV, packed with gzip, so that anyone can
// read it; a record that would not come back from that unchanged is refused.
func (s *Store) SaveRecord(ctx context.Context, name string, rec *weather.Record) error {
	if strings.TrimSpace(name) == "" {
		return errors.New("a weather record needs a name to be kept under")
	}
	what := fmt.Sprintf("keeping weather record %q", name)
	if err := whole(rec); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	var csv bytes.Buffer
	if err := readings.WriteCSV(&csv, rec); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	if err := comesBack(csv.Bytes(), rec); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	packed, err := pack(csv.Bytes())
	if err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	return s.inTx(ctx, what, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO weather_record VALUES (?,?,?,?,?,?,?,?,?,?,?,?)",
			name, rec.Station, rec.Name, rec.Source, rec.Estimated, rec.Site.LatDeg, rec.Site.LonDeg, rec.Site.ElevM,
			rec.Start.String(), rec.Days(), checksum(csv.Bytes()), packed)
		return err
	})
}

// LoadRecord reads the record kept under name.
func (s *Store) LoadRecord(ctx context.Context, name string) (*weather.Record, error) {
	var sum string
	var packed []byte
	head := weather.Record{}
	err := s.read.QueryRowContext(ctx, `SELECT station, title, source, estimated, latitude_deg, longitude_deg, elevation_m,
		sha256, csv_gz FROM weather_record WHERE name = ?`, name).Scan(&head.Station, &head.Name, &head.Source,
		&head.Estimated, &head.Site.LatDeg, &head.Site.LonDeg, &head.Site.ElevM, &sum, &packed)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return nil, s.missing("no weather record is called %q; give the record again, or choose another", name)
	case err != nil:
		return nil, fmt.Errorf("weather record %q: %w", name, s.explain(err))
	}
	csv, err := unpack(packed)
	if err != nil || checksum(csv) != sum {
		return nil, &Error{Damaged, s.path, fmt.Sprintf("its weather record %q is damaged; give the record again", name), err}
	}
	rec, err := read(csv)
	if err != nil {
		return nil, fmt.Errorf("weather record %q: %w", name, err)
	}
	rec.Station, rec.Name, rec.Source = head.Station, head.Name, head.Source
	rec.Estimated, rec.Site = head.Estimated, head.Site
	return rec, nil
}

// Records lists the records in the file by name.
func (s *Store) Records(ctx context.Context) ([]RecordInfo, error) {
	r := &reader{ctx: ctx, q: s.read}
	infos := list(r, `SELECT name, title, source, estimated, latitude_deg, longitude_deg, elevation_m, start, days, sha256
		FROM weather_record ORDER BY name`, func(i *RecordInfo) []any {
		return []any{&i.Name, &i.Title, &i.Source, &i.Estimated, &i.Site.LatDeg, &i.Site.LonDeg, &i.Site.ElevM, day{&i.Start}, &i.Days, &i.SHA256}
	})
	if r.err != nil {
		return nil, fmt.Errorf("listing weather records: %w", s.explain(r.err))
	}
	return infos, nil
}

func read(csv []byte) (*weather.Record, error) {
	rec, report, err := readings.Read(bytes.NewReader(csv), "kept record")
	if err != nil {
		return nil, err
	}
	if report.RejectedCount > 0 {
		return nil, fmt.Errorf("%d values would be left out, the first on line %d: %s",
			report.RejectedCount, report.Rejected[0].Line, report.Rejected[0].What)
	}
	return rec, nil
}

// whole is an error unless every series of rec that there is has all its days.
func whole(rec *weather.Record) error {
	for _, series := range [][]float64{rec.TmaxC, rec.RainMM, rec.SunMJ, rec.HumidityPC, rec.WindMS} {
		if series != nil && len(series) != rec.Days() {
			return fmt.Errorf("one of its series has %d days where the record has %d", len(series), rec.Days())
		}
	}
	return nil
}

// comesBack is an error unless csv reads as the days of rec.
func comesBack(csv []byte, rec *weather.Record) error {
	got, err := read(csv)
	if err != nil {
		return err
	}
	if got.Start != rec.Start || got.Days() != rec.Days() {
		return fmt.Errorf("its days %s to %s would come back as %s to %s; cut off days without any value", rec.Start, rec.End(), got.Start, got.End())
	}
	for _, pair := range [][2][]float64{
		{rec.TminC, got.TminC}, {rec.TmaxC, got.TmaxC}, {rec.RainMM, got.RainMM},
		{rec.SunMJ, got.SunMJ}, {rec.HumidityPC, got.HumidityPC}, {rec.WindMS, got.WindMS},
	} {
		if day := firstDifference(pair[0], pair[1]); day >= 0 {
			return fmt.Errorf("its values of %s would not come back as they are", rec.Start.Add(day))
		}
	}
	return nil
}

// firstDifference is where two series part, or -1; two missing values agree.
func firstDifference(a, b []float64) int {
	if len(a) != len(b) {
		return min(len(a), len(b))
	}
	for i := range a {
		if a[i] != b[i] && (a[i] == a[i] || b[i] == b[i]) {
			return i
		}
	}
	return -1
}

func pack(raw []byte) ([]byte, error) {
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	_, err := z.Write(raw)
	err = errors.Join(err, z.Close())
	return out.Bytes(), err
}

func unpack(packed []byte) ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(io.LimitReader(z, maxRecordBytes))
}

func checksum(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}
