package fetch

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

func TestDownloadKeepsACopyAndSaysWhoAsks(t *testing.T) {
	body := content(300_000)
	b := newBench(t, serveFile(body, `"v1"`, 0))
	got, err := b.fetchThing(1 << 20)
	if err != nil || !bytes.Equal(read(t, got), body) || got.Stale != nil || !got.At.Equal(noon) {
		t.Fatalf("%+v, %v", got, err)
	}
	if agent := b.last().UserAgent(); !strings.Contains(agent, "Haulm/") || !strings.Contains(agent, "gardener@example.org") {
		t.Errorf("User-Agent %q", agent)
	}
	end := b.told[len(b.told)-1]
	if end.Done != int64(len(body)) || end.Total != int64(len(body)) || end.What != "the thing" {
		t.Errorf("last told %+v", end)
	}
	// Within the hour the copy does without the service.
	b.pass(59 * time.Minute)
	if _, err := b.fetchThing(1 << 20); err != nil || b.requests() != 1 {
		t.Errorf("asked %d times, %v", b.requests(), err)
	}
	// After it the service is asked whether it has another, and says no.
	b.pass(2 * time.Minute)
	again, err := b.fetchThing(1 << 20)
	if err != nil || b.requests() != 2 || b.last().Header.Get("If-None-Match") != `"v1"` || !again.At.After(got.At) || !bytes.Equal(read(t, again), body) {
		t.Errorf("asked %d times with %v, %+v, %v", b.requests(), b.last().Header, again, err)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(got.Path), "*.part*")); len(left) != 0 {
		t.Errorf("left behind %v", left)
	}
}

// A download that breaks off is taken up where it stopped, in the same run or
// in the next.
func TestDownloadResumes(t *testing.T) {
	body := content(300_000)
	b := newBench(t, serveFile(body, `"v1"`, 100_000))
	got, err := b.fetchThing(1 << 20)
	if err != nil || !bytes.Equal(read(t, got), body) {
		t.Fatal(err)
	}
	if r := b.last().Header; r.Get("If-Range") != `"v1"` || !strings.HasPrefix(r.Get("Range"), "bytes=") || r.Get("Range") == "bytes=0-" {
		t.Errorf("asked for the rest with %v", r)
	}
	if end := b.told[len(b.told)-1]; !end.Resumed || end.Done != int64(len(body)) || end.Total != int64(len(body)) {
		t.Errorf("told %+v", end)
	}
	if !slices.Equal(b.waited, []time.Duration{time.Second}) {
		t.Errorf("waited %v", b.waited)
	}
}

func TestDownloadResumesInTheNextRun(t *testing.T) {
	body := content(300_000)
	b := newBench(t, serveFile(body, `"v1"`, 100_000))
	ctx, cancel := context.WithCancel(context.Background())
	b.options.Wait = func(context.Context, time.Duration) error { // the person stops the program as it breaks off
		cancel()
		return ctx.Err()
	}
	if _, err := b.download(ctx, b.thing(1<<20)); err == nil {
		t.Fatal("no error")
	}
	next := b.run(b.options.Folder)
	got, err := next.download(context.Background(), b.thing(1<<20))
	if err != nil || !bytes.Equal(read(t, got), body) || b.requests() != 2 || b.last().Header.Get("Range") == "" {
		t.Errorf("%v after %d requests, the last with %v", err, b.requests(), b.last().Header)
	}
}

// The file has changed since the download broke off: the service sends all of
// the new one and nothing of the old is left in it.
func TestDownloadOfAFileThatChanges(t *testing.T) {
	before, after := content(300_000), bytes.Repeat([]byte("new\n"), 60_000)
	serve := serveFile(before, `"v1"`, 100_000)
	b := newBench(t, func(w http.ResponseWriter, r *http.Request) {
		now := serve
		serve = serveFile(after, `"v2"`, 0)
		now(w, r)
	})
	got, err := b.fetchThing(1 << 20)
	if err != nil || !bytes.Equal(read(t, got), after) {
		t.Errorf("%v", err)
	}
}

// A service that sends another part than was asked for spoils nothing.
func TestDownloadOfWrongParts(t *testing.T) {
	body := content(300_000)
	for _, c := range []struct{ name, contentRange, etag string }{
		{"from the start", "bytes 0-299999/300000", `"v1"`},
		{"another length", "bytes %d-299999/300001", `"v1"`},
		{"another version", "bytes %d-299999/300000", `"v2"`},
		{"no range", "", `"v1"`},
	} {
		serve := serveFile(body, `"v1"`, 100_000)
		b := newBench(t, func(w http.ResponseWriter, r *http.Request) {
			if from := r.Header.Get("Range"); from != "" {
				var n int
				_, _ = fmt.Sscanf(from, "bytes=%d-", &n)
				if strings.Contains(c.contentRange, "%d") {
					w.Header().Set("Content-Range", fmt.Sprintf(c.contentRange, n))
				} else if c.contentRange != "" {
					w.Header().Set("Content-Range", c.contentRange)
				}
				w.Header().Set("ETag", c.etag)
				w.WriteHeader(http.StatusPartialContent)
				_, _ = w.Write(body[n:])
				return
			}
			serve(w, r)
		})
		got, err := b.fetchThing(1 << 20)
		if err != nil || !bytes.Equal(read(t, got), body) || b.requests() != 3 {
			t.Errorf("%s: %v after %d requests", c.name, err, b.requests())
		}
	}
}

// A service without ranges sends all again.
func TestDownloadWithoutRanges(t *testing.T) {
	body := content(300_000)
	serve := serveFile(body, `"v1"`, 100_000)
	b := newBench(t, func(w http.ResponseWriter, r *http.Request) {
		r.Header.Del("Range")
		serve(w, r)
	})
	got, err := b.fetchThing(1 << 20)
	if err != nil || !bytes.Equal(read(t, got), body) {
		t.Errorf("%v", err)
	}
}

func TestDownloadRangeNotSatisfiable(t *testing.T) {
	body := content(300_000)
	serve := serveFile(body, `"v1"`, 100_000)
	b := newBench(t, func(w http.ResponseWriter, r *http.Request) {
		if r.Header.Get("Range") != "" {
			w.WriteHeader(http.StatusRequestedRangeNotSatisfiable)
			return
		}
		serve(w, r)
	})
	got, err := b.fetchThing(1 << 20)
	if err != nil || !bytes.Equal(read(t, got), body) {
		t.Errorf("%v", err)
	}
}

// What can pass is tried again, as often and as late as is decent; what cannot
// is not.
func TestDownloadRefusals(t *testing.T) {
	for _, c := range []struct {
		name     string
		status   int
		after    string
		kind     Kind
		words    string
		requests int
		waited   []time.Duration
	}{
		{"403", 403, "", Refused, "--contact", 1, nil},
		{"401", 401, "", Refused, "--contact", 1, nil},
		{"404", 404, "", Missing, "has no the thing", 1, nil},
		{"410", 410, "", Missing, "has no", 1, nil},
		{"418", 418, "", BadAnswer, "418", 1, nil},
		{"500", 500, "", Busy, "trouble of its own", 4, []time.Duration{1e9, 2e9, 4e9}},
		{"503", 503, "7", Busy, "trouble of its own", 4, []time.Duration{7e9, 7e9, 7e9}},
		{"429 in seconds", 429, "20", Busy, "too often", 4, []time.Duration{20e9, 20e9, 20e9}},
		{"429 by date", 429, noon.Add(30 * time.Second).Format(http.TimeFormat), Busy, "too often", 4, []time.Duration{30e9, 2e9, 4e9}},
		{"429 for an hour", 429, "3600", Busy, "until 13:00 on 25 November", 1, nil},
		{"429 nonsense", 429, "soon", Busy, "too often", 4, []time.Duration{1e9, 2e9, 4e9}},
	} {
		b := newBench(t, func(w http.ResponseWriter, _ *http.Request) {
			if c.after != "" {
				w.Header().Set("Retry-After", c.after)
			}
			w.WriteHeader(c.status)
		})
		_, err := b.fetchThing(1 << 20)
		wantError(t, err, c.kind, c.words)
		if b.requests() != c.requests || !slices.Equal(b.waited, c.waited) {
			t.Errorf("%s: asked %d times, waited %v", c.name, b.requests(), b.waited)
		}
	}
}

func TestDownloadTriesAgain(t *testing.T) {
	body := content(1000)
	n := 0
	b := newBench(t, func(w http.ResponseWriter, r *http.Request) {
		if n++; n < 3 {
			w.WriteHeader(http.StatusBadGateway)
			return
		}
		serveFile(body, `"v1"`, 0)(w, r)
	})
	got, err := b.fetchThing(1 << 20)
	if err != nil || !bytes.Equal(read(t, got), body) || b.requests() != 3 {
		t.Errorf("%v after %d requests", err, b.requests())
	}
}

// Bodies that are not what they should be.
func TestDownloadOfBadBodies(t *testing.T) {
	for _, c := range []struct {
		name   string
		handle http.HandlerFunc
		kind   Kind
		words  string
	}{
		{"a page", func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			_, _ = w.Write([]byte("<html>log in</html>"))
		}, BadAnswer, "log in"},
		{"too large and says so", func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Length", "5000000")
			_, _ = w.Write(content(5_000_000))
		}, TooLarge, "larger than"},
		{"too large and does not say so", func(w http.ResponseWriter, _ *http.Request) {
			for range 100 {
				if _, err := w.Write(content(100_000)); err != nil {
					return
				}
				w.(http.Flusher).Flush()
			}
		}, TooLarge, "larger than"},
		{"always cut off", func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Length", "5000")
			_, _ = w.Write(content(100))
			panic(http.ErrAbortHandler)
		}, Offline, "no answer"},
		{"not changed from nothing", func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(304) }, BadAnswer, "no copy"},
	} {
		b := newBench(t, c.handle)
		_, err := b.fetchThing(2 << 20)
		if err == nil {
			t.Errorf("%s: no error", c.name)
			continue
		}
		wantError(t, err, c.kind, c.words)
		if _, err := os.Stat(filepath.Join(b.options.Folder, "thing")); err == nil {
			t.Errorf("%s: a copy was kept", c.name)
		}
	}
}

// Where the service is gone, the old copy stands in and says so; where there
// is none, the error does.
func TestDownloadOffline(t *testing.T) {
	body := content(1000)
	b := newBench(t, serveFile(body, `"v1"`, 0))
	if _, err := b.fetchThing(1 << 20); err != nil {
		t.Fatal(err)
	}
	f := b.thing(1 << 20)
	b.server.Close()
	b.pass(2 * time.Hour)
	got, err := b.download(context.Background(), f)
	if err != nil || got.Stale == nil || !bytes.Equal(read(t, got), body) || !got.At.Equal(noon) {
		t.Errorf("%+v, %v", got, err)
	}
	f.name = "other"
	_, err = b.download(context.Background(), f)
	wantError(t, err, Offline, "check the connection")
}

// A connection on which nothing comes is given up, before the answer or in it.
func TestDownloadStalls(t *testing.T) {
	for _, c := range []struct {
		name  string
		begin func(http.ResponseWriter)
	}{
		{"before the answer", func(http.ResponseWriter) {}},
		{"in the body", func(w http.ResponseWriter) {
			w.Header().Set("Content-Length", "5000")
			_, _ = w.Write(content(100))
			w.(http.Flusher).Flush()
		}},
	} {
		released := make(chan struct{})
		b := newBench(t, func(w http.ResponseWriter, r *http.Request) {
			c.begin(w)
			select {
			case <-r.Context().Done():
			case <-released:
			}
		})
		b.options.Stall = 50 * time.Millisecond
		_, err := b.fetchThing(1 << 20)
		close(released)
		wantError(t, err, Offline, "silent")
	}
}

func TestDownloadIsStoppedByThePerson(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	b := newBench(t, func(_ http.ResponseWriter, r *http.Request) { cancel(); <-r.Context().Done() })
	_, err := b.download(ctx, b.thing(1<<20))
	if !errors.Is(err, context.Canceled) || b.requests() != 1 || len(b.waited) != 0 {
		t.Errorf("%v after %d requests", err, b.requests())
	}
}

func TestRedirects(t *testing.T) {
	b := newBench(t, func(w http.ResponseWriter, r *http.Request) { http.Redirect(w, r, r.URL.Path+"x", http.StatusFound) })
	if _, err := b.fetchThing(1 << 20); err == nil || !strings.Contains(err.Error(), "without end") {
		t.Errorf("%v", err)
	}
	from, _ := http.NewRequest("GET", "https://a.example/", nil)
	to, _ := http.NewRequest("GET", "http://a.example/", nil)
	if err := checkRedirect(to, []*http.Request{from}); err == nil {
		t.Error("a redirect out of encryption was followed")
	}
}

// A folder that cannot be written gets an error about the disk.
func TestDownloadWithoutAPlace(t *testing.T) {
	blocked := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(blocked, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	b := newBench(t, serveFile(content(10), `"v1"`, 0))
	c := b.run(blocked)
	_, err := c.download(context.Background(), b.thing(1<<20))
	wantError(t, err, Disk, "cannot be kept")
}
