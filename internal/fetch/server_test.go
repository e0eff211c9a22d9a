package fetch

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// noon is when the tests take place.
var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// bench is a client against a server of the test's own, with a clock that
// stands still but for the waiting.
type bench struct {
	*Client
	server *httptest.Server

	mu     sync.Mutex
	now    time.Time
	waited []time.Duration
	told   []Progress
	asked  []*http.Request
}

// newBench serves with handle; no other host is ever asked.
func newBench(t *testing.T, handle http.HandlerFunc) *bench {
	t.Helper()
	b := &bench{now: noon}
	b.server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		b.mu.Lock()
		b.asked = append(b.asked, r.Clone(context.Background()))
		b.mu.Unlock()
		handle(w, r)
	}))
	t.Cleanup(b.server.Close)
	b.Client = b.run(t.TempDir())
	return b
}

// run is a new client, as of a new run of the program, with the same clock.
func (b *bench) run(folder string) *Client {
	return New(Options{
		Folder: folder, Contact: "gardener@example.org", NCEI: b.server.URL, METNorway: b.server.URL, Stall: 5 * time.Second,
		Now: func() time.Time { b.mu.Lock(); defer b.mu.Unlock(); return b.now },
		Wait: func(ctx context.Context, d time.Duration) error {
			b.mu.Lock()
			defer b.mu.Unlock()
			b.waited, b.now = append(b.waited, d), b.now.Add(d)
			return ctx.Err()
		},
		Progress: func(p Progress) { b.mu.Lock(); defer b.mu.Unlock(); b.told = append(b.told, p) },
	})
}

func (b *bench) pass(d time.Duration) { b.mu.Lock(); b.now = b.now.Add(d); b.mu.Unlock() }

func (b *bench) requests() int { b.mu.Lock(); defer b.mu.Unlock(); return len(b.asked) }

func (b *bench) last() *http.Request {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.asked[len(b.asked)-1]
}

// thing is the file that the download tests fetch.
func (b *bench) thing(limit int64) file {
	return file{"NCEI", "the thing", b.server.URL + "/thing", "thing", limit, time.Hour}
}

func (b *bench) fetchThing(limit int64) (Copy, error) {
	return b.download(context.Background(), b.thing(limit))
}

// content is a body that shows where bytes are missing or doubled.
func content(n int) []byte {
	var out bytes.Buffer
	for i := 0; out.Len() < n; i++ {
		fmt.Fprintf(&out, "%07d\n", i)
	}
	return out.Bytes()[:n]
}

// serveFile is a file server as RFC 9110 describes it: ranges, If-Range and
// conditional requests. cutAfter above 0 breaks the first answer off there.
func serveFile(body []byte, etag string, cutAfter int) http.HandlerFunc {
	first := true
	return func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("ETag", etag)
		w.Header().Set("Content-Type", "application/gzip")
		if cut := cutAfter; first && cut > 0 {
			first = false
			w.Header().Set("Content-Length", strconv.Itoa(len(body)))
			_, _ = w.Write(body[:cut])
			w.(http.Flusher).Flush()
			panic(http.ErrAbortHandler)
		}
		http.ServeContent(w, r, "", noon.Add(-time.Hour), bytes.NewReader(body))
	}
}

func zipped(text string) []byte {
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	_, _ = io.WriteString(z, text)
	_ = z.Close()
	return out.Bytes()
}

// read is the copy's text.
func read(t *testing.T, c Copy) []byte {
	t.Helper()
	text, err := os.ReadFile(c.Path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// wantError checks an error's kind and that it is one line with the words.
func wantError(t *testing.T, err error, kind Kind, words string) {
	t.Helper()
	got, ok := KindOf(err)
	switch {
	case err == nil:
		t.Errorf("no error, want one with %q", words)
	case !ok || got != kind || !strings.Contains(err.Error(), words) || strings.Contains(err.Error(), "\n"):
		t.Errorf("error %d %q, want kind %d with %q", got, err, kind, words)
	}
}
