package readings

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"haulm/internal/weather"
)

// plainNames are the columns that WriteCSV writes, by variable.
var plainNames = [weather.Variables]string{"tmin_c", "tmax_c", "rain_mm", "sun_mj", "humidity_pc", "wind_ms"}

// WriteCSV writes rec as a plain CSV from which Read makes the same record.
func WriteCSV(w io.Writer, rec *weather.Record) error {
	out := bufio.NewWriter(w)
	writeRemarks(out, rec)
	var written []weather.Variable
	out.WriteString("date")
	for v := range weather.Variables {
		if rec.Series(v) != nil {
			written = append(written, v)
			out.WriteString("," + plainNames[v])
		}
	}
	out.WriteByte('\n')
	for i := range rec.Days() {
		out.WriteString(rec.Start.Add(i).String())
		for _, v := range written {
			out.WriteByte(',')
			if x := rec.Series(v)[i]; !math.IsNaN(x) {
				out.WriteString(strconv.FormatFloat(x, 'f', -1, 64))
			}
		}
		out.WriteByte('\n')
	}
	if err := out.Flush(); err != nil {
		return fmt.Errorf("writing the record %s: %w", rec.Name, err)
	}
	return nil
}

func writeRemarks(out *bufio.Writer, rec *weather.Record) {
	remark := func(key, value string) {
		if value = strings.Join(strings.Fields(value), " "); value != "" {
			fmt.Fprintf(out, "# %s: %s\n", key, value)
		}
	}
	remark("name", rec.Name)
	remark("station", rec.Station)
	remark("source", rec.Source)
	if rec.Estimated {
		remark("estimated", "yes")
	}
	if rec.Site != (weather.Site{}) {
		remark("lat", strconv.FormatFloat(rec.Site.LatDeg, 'f', -1, 64))
		remark("lon", strconv.FormatFloat(rec.Site.LonDeg, 'f', -1, 64))
		remark("elev_m", strconv.FormatFloat(rec.Site.ElevM, 'f', -1, 64))
	}
}
