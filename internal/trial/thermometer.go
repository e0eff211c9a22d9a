package trial

import (
	"fmt"
	"math"
	"strings"
	"time"

	"haulm/internal/soil"
	"haulm/internal/weather"
)

// Thermometer is a soil thermometer held against the model of the seedbed, by
// months over some years.
type Thermometer struct {
	Where              string
	DepthCM            float64
	Fitted             bool // the model's figures come from these years
	FromYear, ToYear   int
	Months             [12]SoilMonth
	ScatterC           float64 // root mean square of a day's difference, radiation as recorded
	EstimatedScatterC  float64 // the same with radiation from the range of temperature
	Days               int
	EstimatedSunMonths [12]float64 // ours minus measured with radiation from the range of temperature, °C
}

// SoilMonth are a month's means, °C.
type SoilMonth struct{ AirC, MeasuredC, OursC float64 }

// HoldThermometer compares the seedbed of a record with what a thermometer in
// bare ground measured, one value a day of the record (NaN = not read), over
// the years from and to, both included.
func HoldThermometer(where string, rec *weather.Record, measuredC []float64, depthCM float64, from, to int, fitted bool) Thermometer {
	th := Thermometer{Where: where, DepthCM: depthCM, FromYear: from, ToYear: to, Fitted: fitted}
	dark := *rec
	dark.SunMJ = nil
	ours, estimated := soil.Temperature(rec, depthCM), soil.Temperature(&dark, depthCM)
	var n [12]float64
	for i, measured := range measuredC {
		date := rec.Start.Add(i)
		air := (rec.TminC[i] + rec.TmaxC[i]) / 2
		if math.IsNaN(measured+ours[i]+air) || date.Year() < from || date.Year() > to {
			continue
		}
		m := date.Month() - 1
		th.Months[m].AirC += air
		th.Months[m].MeasuredC += measured
		th.Months[m].OursC += ours[i]
		th.EstimatedSunMonths[m] += estimated[i] - measured
		n[m]++
		th.ScatterC += math.Pow(ours[i]-measured, 2)
		th.EstimatedScatterC += math.Pow(estimated[i]-measured, 2)
		th.Days++
	}
	for m := range th.Months {
		th.Months[m].AirC /= n[m]
		th.Months[m].MeasuredC /= n[m]
		th.Months[m].OursC /= n[m]
		th.EstimatedSunMonths[m] /= n[m]
	}
	th.ScatterC, th.EstimatedScatterC = math.Sqrt(th.ScatterC/float64(th.Days)), math.Sqrt(th.EstimatedScatterC/float64(th.Days))
	return th
}

func writeThermometers(b *strings.Builder, list []Thermometer) {
	if len(list) == 0 {
		return
	}
	b.WriteString("\n## The seedbed against soil thermometers\n\nMonthly means, °C, of the air, of a thermometer in bare ground and of our seedbed at its depth; then how far we are off, and how far where radiation is not measured but taken from the day's range of temperature, as at most stations. Only one soil thermometer lies in the records at hand; its earlier years set three figures of the model, its later years judge them.\n")
	for _, th := range list {
		used := "judges"
		if th.Fitted {
			used = "fitted to"
		}
		fmt.Fprintf(b, "\n%s, %g cm, %d–%d, %d days (%s): %.1f °C from day to day, %.1f with radiation estimated.\n\n| | air | thermometer | ours | off | radiation estimated |\n|---|---:|---:|---:|---:|---:|\n", th.Where, th.DepthCM, th.FromYear, th.ToYear, th.Days, used, th.ScatterC, th.EstimatedScatterC)
		for m, month := range th.Months {
			fmt.Fprintf(b, "| %s | %.1f | %.1f | %.1f | %s | %s |\n", time.Month(m+1), month.AirC, month.MeasuredC, month.OursC, tenthC(month.OursC-month.MeasuredC), tenthC(th.EstimatedSunMonths[m]))
		}
	}
}

func tenthC(x float64) string {
	if math.Abs(x) < 0.05 {
		return "0.0"
	}
	return strings.ReplaceAll(fmt.Sprintf("%+.1f", x), "-", "−")
}
