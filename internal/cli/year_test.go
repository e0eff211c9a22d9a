package cli

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"rsc.io/qr"
)

func TestTheYearIsToldBegunAndOpenedAgain(t *testing.T) {
	at := seasonGarden(t)
	in := func(args ...string) outcome {
		return onDay(time.Date(2027, 12, 30, 9, 0, 0, 0, time.UTC), append([]string{"--garden", at}, args...)...)
	}
	if got := in("year", "2027"); got.code != exitOK || !strings.Contains(got.out, "The diary says nothing of 2027") {
		t.Errorf("an empty year: %+v", got)
	}
	for _, line := range []string{"picked 800 g leeks 4 March; 10 min", "cleared leeks 20 March", "stored 4 kg beetroot 30 August"} {
		if got := in("note", line); got.code != exitOK {
			t.Fatalf("%q: %s", line, got.err)
		}
	}
	told := in("year")
	for _, want := range []string{"the year 2027 as far as 30 December", "0.8 kg came", "Leek", "kg/m²", "estimated"} {
		if !strings.Contains(told.out, want) {
			t.Errorf("the year lacks %q:\n%s", want, told.out)
		}
	}
	var answer struct {
		Year  int     `json:"year"`
		Kg    float64 `json:"kg"`
		Crops []struct {
			Crop    string  `json:"crop"`
			Minutes float64 `json:"minutes_noted"`
		} `json:"crops"`
	}
	if got := in("year", "2027", "--json"); json.Unmarshal([]byte(got.out), &answer) != nil || answer.Kg != 0.8 || len(answer.Crops) == 0 || answer.Crops[0].Minutes != 10 {
		t.Errorf("as JSON: %+v", answer)
	}
	if got := in("year", "--start-next"); got.code != exitOK || !strings.Contains(got.out, "Nothing is changed yet") || !strings.Contains(got.out, "Leek (by the diary)") {
		t.Errorf("shown first: %+v", got)
	}
	if got := in("year", "--start-next", "--yes"); got.code != exitOK || !strings.Contains(got.out, "2028 begins") {
		t.Errorf("begun: %+v", got)
	}
	if got := in("year", "2027"); !strings.Contains(got.out, "closed on 30 December 2027") {
		t.Errorf("closed: %+v", got)
	}
	if got := in("year", "--undo"); got.code != exitOK || !strings.Contains(got.out, "2027 is open again") {
		t.Errorf("undone: %+v", got)
	}
	for _, c := range []struct{ args, want string }{
		{"year --undo", "closed no year"}, {"year --yes", "--start-next"}, {"year 1066", "no year of a garden"}, {"year soon", "haulm year --help"},
		{"year 2031", "has not begun"}, {"year --undo --start-next", "opposites"},
	} {
		if got := in(strings.Fields(c.args)...); got.code != exitBad || got.out != "" || !strings.Contains(got.err, c.want) || strings.Count(got.err, "\n") != 1 {
			t.Errorf("haulm %s: %+v, want %q", c.args, got, c.want)
		}
	}
}

// Each sign of the drawing holds two modules, one above the other; light is
// what is printed.
func TestAQRCodeIsDrawnInHalfBlocks(t *testing.T) {
	code, err := qr.Encode("http://192.168.1.20:8470/pair?code=ABCD2345", qr.L)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	drawQR(&out, code)
	lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
	const quiet = 2
	if want := (code.Size + 2*quiet + 1) / 2; len(lines) != want {
		t.Fatalf("%d lines, want %d", len(lines), want)
	}
	for n, line := range lines {
		for x, sign := range []rune(line) {
			for half, light := range []bool{sign == '█' || sign == '▀', sign == '█' || sign == '▄'} {
				if y := 2*n + half - quiet; light == code.Black(x-quiet, y) {
					t.Fatalf("module %d,%d is drawn wrong", x-quiet, y)
				}
			}
		}
	}
}
