package cli

import (
	"path/filepath"
	"strings"
	"testing"

	"haulm/internal/garden"
)

// A gardener who has said where the garden lies need not say it again.
func TestFrostAndGrowAskTheGardensOwnWeather(t *testing.T) {
	file := filepath.Join(t.TempDir(), "g.haulm")
	for _, args := range [][]string{{"frost"}, {"grow", "--crop", "pea", "--start", "03-20"}} {
		args = append([]string{"--garden", file}, args...)
		if got := haulm(args...); got.code != exitBad || !strings.Contains(got.err, "name a weather record") {
			t.Errorf("without a garden, %q: %+v", args, got)
		}
	}
	if got := haulm("--garden", file, "import", write(t, "demo.toml", garden.DemoText)); got.code != exitOK {
		t.Fatalf("%+v", got)
	}
	for _, args := range [][]string{{"frost"}, {"grow", "--crop", "pea", "--start", "03-20"}} {
		args = append([]string{"--garden", file}, args...)
		if got := haulm(args...); got.code != exitOK || !strings.HasPrefix(got.out, garden.Demo().Name+": ") {
			t.Errorf("%q: %+v", args, got)
		}
	}
}

func TestFrostOfYearsThatAreNotOnRecordSaysSo(t *testing.T) {
	for _, years := range [][]string{{"--from", "99999"}, {"--to", "1700"}} {
		got := haulm(append([]string{"frost", "--place", "Kilkenny"}, years...)...)
		if got.code != exitBad || got.out != "" || !strings.Contains(got.err, "it runs from") {
			t.Errorf("%q: %+v", years, got)
		}
	}
	short := write(t, "r.csv", "date,tmin_c,tmax_c,rain_mm\n2025-05-01,3,12,0\n2025-05-02,4,13,1\n")
	if got := haulm("frost", "--record", short, "--lat", "53"); got.code != exitBad || !strings.Contains(got.err, "no season year") {
		t.Errorf("two days: %+v", got)
	}
}
