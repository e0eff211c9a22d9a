package normals

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// figure is one named number of a Month or of a Year.
type figure struct {
	name string
	at   *float64
}

// figures names a month's numbers for the table on file, with their units.
func (m *Month) figures() []figure {
	return []figure{
		{"tmin_c", &m.TminC}, {"tmax_c", &m.TmaxC}, {"tmin_wet_c", &m.TminWetC}, {"tmax_wet_c", &m.TmaxWetC},
		{"tmin_sd_c", &m.TminSDC}, {"tmax_sd_c", &m.TmaxSDC}, {"tmin_lag1", &m.TminLag1}, {"tmax_lag1", &m.TmaxLag1},
		{"tmin_tmax_r", &m.TminTmax},
		{"wet_after_dry", &m.WetAfterDry}, {"wet_after_wet", &m.WetAfterWet}, {"wet_mean_mm", &m.WetMeanMM}, {"wet_shape", &m.WetShape},
		{"clear_dry", &m.ClearDry}, {"clear_wet", &m.ClearWet}, {"clear_dry_sd", &m.ClearDrySD}, {"clear_wet_sd", &m.ClearWetSD},
		{"clear_on_tmin", &m.ClearOnTmin}, {"clear_on_tmax", &m.ClearOnTmax},
		{"wind_ms", &m.WindMS}, {"wind_sd_ms", &m.WindSD}, {"wind_lag1", &m.WindLag1},
	}
}

// humidityFigures are columns that a table may lack.
func (m *Month) humidityFigures() []figure {
	return []figure{
		{"humidity_pc", &m.HumidityPC}, {"humidity_wet_pc", &m.HumidityWetPC}, {"humidity_sd_pc", &m.HumiditySD},
		{"humidity_lag1", &m.HumidityLag1}, {"humidity_on_tmax", &m.HumidityOnTmax},
	}
}

// written are the columns of n's table.
func (n *Year) written(month int) []figure {
	m := &n.Months[month]
	if !n.knowsHumidity() {
		return m.figures()
	}
	return append(m.figures(), m.humidityFigures()...)
}

// wholes names the numbers that are not by month.
func (n *Year) wholes() []figure {
	return []figure{
		{"lat", &n.Site.LatDeg}, {"lon", &n.Site.LonDeg}, {"elev_m", &n.Site.ElevM},
		{"slow_days", &n.SlowDays}, {"slow_tmin_var", &n.SlowTminVar}, {"slow_tmax_var", &n.SlowTmaxVar},
	}
}

// Write writes n as a CSV: remarks, then a header and a line a month.
// A missing figure is an empty field.
func Write(w io.Writer, n Year) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "# name: %s\n# source: %s\n", n.Name, n.Source)
	for _, f := range n.wholes() {
		fmt.Fprintf(out, "# %s: %s\n", f.name, figureText(*f.at))
	}
	out.WriteString("month")
	for _, f := range n.written(0) {
		out.WriteString("," + f.name)
	}
	for m := range n.Months {
		fmt.Fprintf(out, "\n%d", m+1)
		for _, f := range n.written(m) {
			out.WriteString("," + figureText(*f.at))
		}
	}
	out.WriteString("\n")
	return out.Flush()
}

func figureText(x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	return strconv.FormatFloat(math.Round(x*1e4)/1e4, 'f', -1, 64)
}

// Read reads what Write writes.
func Read(r io.Reader) (Year, error) {
	var n Year
	text, err := io.ReadAll(io.LimitReader(r, 1<<20))
	if err != nil {
		return n, fmt.Errorf("monthly figures: %w", err)
	}
	var table strings.Builder
	for line := range strings.Lines(string(text)) {
		if !strings.HasPrefix(line, "#") {
			table.WriteString(line)
			continue
		}
		if err := n.remark(strings.TrimPrefix(strings.TrimSpace(line), "#")); err != nil {
			return n, err
		}
	}
	rows, err := csv.NewReader(strings.NewReader(table.String())).ReadAll()
	if err != nil {
		return n, fmt.Errorf("monthly figures: %w", err)
	}
	if len(rows) != 13 {
		return n, errors.New("monthly figures: a header and twelve months are wanted")
	}
	for m := range n.Months {
		if err := n.Months[m].read(rows[0], rows[m+1]); err != nil {
			return n, err
		}
	}
	return n, nil
}

func (n *Year) remark(text string) error {
	key, value, _ := strings.Cut(text, ":")
	key, value = strings.TrimSpace(key), strings.TrimSpace(value)
	switch key {
	case "name":
		n.Name = value
	case "source":
		n.Source = value
	}
	for _, f := range n.wholes() {
		if f.name != key {
			continue
		}
		x, err := strconv.ParseFloat(value, 64)
		if err != nil {
			return fmt.Errorf("monthly figures: %s is not a number: %q", key, value)
		}
		*f.at = x
	}
	return nil
}

func (m *Month) read(names, row []string) error {
	at := map[string]string{}
	for i, name := range names {
		at[name] = row[i]
	}
	columns := m.figures()
	if _, ok := at["humidity_pc"]; ok {
		columns = append(columns, m.humidityFigures()...)
	}
	for _, f := range columns {
		text, ok := at[f.name]
		if !ok {
			return fmt.Errorf("monthly figures: no column %s", f.name)
		}
		*f.at = math.NaN()
		if text == "" {
			continue
		}
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return fmt.Errorf("monthly figures: %s of month %s is not a number: %q", f.name, row[0], text)
		}
		*f.at = x
	}
	return nil
}
