package web

import (
	"strings"
	"testing"
	"time"
)

// The diary of the running garden ends at midsummer: what was planned for later
// has its line without a tick, what the diary knows has one.
func TestWhatTheDiaryDoesNotKnowHasNoTick(t *testing.T) {
	desk := runningDeskOn(t, func() time.Time { return time.Date(2027, time.November, 8, 9, 0, 0, 0, time.UTC) })
	pages, server := site(t, desk)
	page := get(t, pages, "/year/next").Body.String()
	ticked := map[bool][2]int{} // by the plan or not: lines with a tick and without
	for _, line := range strings.Split(page, `<label class="choice">`)[1:] {
		line, _, _ = strings.Cut(line, "</label>")
		byPlan := strings.Contains(line, "by the plan; the diary says nothing of it")
		n := ticked[byPlan]
		if strings.Contains(line, " checked>") {
			n[0]++
		} else {
			n[1]++
		}
		ticked[byPlan] = n
	}
	if ticked[true][0] != 0 || ticked[true][1] == 0 || ticked[false][0] == 0 || ticked[false][1] != 0 {
		t.Errorf("lines with a tick and without: %v by the plan, %v by the diary and the garden", ticked[true], ticked[false])
	}
	if !strings.Contains(page, "is not in the diary counts as not begun") {
		t.Error("the page does not say why ticks are off")
	}
	showAll(t, openBrowser(t, server.URL), []string{"/year/next", "/plan"})
}
