package web

import (
	"bufio"
	"context"
	"encoding/json"
	"net"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"haulm/internal/app"
)

// searching is a site with a search for a plan under way.
func searching(t *testing.T) (*Pages, string) {
	t.Helper()
	pages, server := site(t, bareDesk(t))
	if w := post(t, pages, "/plan", url.Values{"seconds": {"60"}}); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/plan/progress" {
		t.Fatalf("starting: status %d to %q", w.Code, w.Header().Get("Location"))
	}
	return pages, server.URL
}

func TestASearchIsWatchedWithoutScript(t *testing.T) {
	pages, _ := searching(t)
	w := get(t, pages, "/plan/progress")
	if w.Code != 200 || !strings.Contains(w.Body.String(), `<noscript><meta http-equiv="refresh" content="2">`) {
		t.Errorf("status %d; the page does not ask again by itself", w.Code)
	}
	if page := get(t, pages, "/plan").Body.String(); !strings.Contains(page, "is being made") {
		t.Error("the plan page does not say that a plan is being made")
	}
	if w := post(t, pages, "/plan/stop", nil); w.Code != http.StatusSeeOther {
		t.Fatalf("stopping: %d", w.Code)
	}
	if w := get(t, pages, "/plan"); !strings.Contains(w.Body.String(), "portions</b> on the table") {
		t.Error("the best plan so far was not kept")
	}
	if w := get(t, pages, "/plan/progress"); w.Header().Get("Location") != "/plan" {
		t.Error("after the search its page should lead to the plan")
	}
}

func TestASearchIsToldAsEvents(t *testing.T) {
	pages, address := searching(t)
	r, _ := http.NewRequest(http.MethodGet, address+"/plan/progress", nil)
	r.Header.Set("Accept", "text/event-stream")
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	drawn, value := false, ""
	lines := bufio.NewScanner(answer.Body)
	lines.Buffer(nil, 4<<20)
	for name := ""; lines.Scan(); {
		if text, ok := strings.CutPrefix(lines.Text(), "event: "); ok {
			name = text
		}
		text, ok := strings.CutPrefix(lines.Text(), "data: ")
		if !ok {
			continue
		}
		if name == "done" {
			break
		}
		var news watching
		if err := json.Unmarshal([]byte(text), &news); err != nil {
			t.Fatal(err)
		}
		value = news.Value
		if strings.Contains(string(news.Drawing), "<svg") && !drawn {
			drawn = true
			go pages.planner.halt()
		}
	}
	if !drawn || value == "0" || value == "" {
		t.Errorf("drawn %v, value %q", drawn, value)
	}
}

func TestOneSearchAtATime(t *testing.T) {
	pages, _ := searching(t)
	first := pages.planner.run
	post(t, pages, "/plan", url.Values{"seconds": {"5"}})
	if pages.planner.run != first {
		t.Error("a second search was begun beside the first")
	}
}

func TestServeEndsWithItsContext(t *testing.T) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- Serve(ctx, listener, bareDesk(t)) }()
	answer, err := http.Get("http://" + listener.Addr().String() + "/crops")
	if err != nil || answer.StatusCode != 200 {
		t.Fatalf("%v, %v", answer, err)
	}
	answer.Body.Close()
	stop()
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(10 * time.Second):
		t.Error("still serving after ten seconds")
	}
}

func TestPlanAsData(t *testing.T) {
	pages, _ := site(t, plannedDesk(t))
	var answer app.PlanAnswer
	if err := json.Unmarshal(get(t, pages, "/plan.json").Body.Bytes(), &answer); err != nil || len(answer.Plantings) == 0 || !answer.Estimated {
		t.Errorf("%v: %d plantings", err, len(answer.Plantings))
	}
}

// BenchmarkPage times each page of the planned demonstration. Aim: under
// 50 ms.
func BenchmarkPage(b *testing.B) {
	pages, _ := site(b, plannedDesk(b))
	for _, address := range shownPages {
		b.Run(shotName(address), func(b *testing.B) {
			for b.Loop() {
				get(b, pages, address)
			}
		})
	}
}
