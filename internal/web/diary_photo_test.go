package web

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"haulm/internal/app"
)

// aPhoto is a photo as a phone takes it, with a block that says where.
func aPhoto(t testing.TB) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 640, 480))
	for y := range 480 {
		for x := range 640 {
			m.Set(x, y, color.RGBA{uint8(x / 3), uint8(90 + y/6), 60, 255})
		}
	}
	var plain bytes.Buffer
	if err := jpeg.Encode(&plain, m, nil); err != nil {
		t.Fatal(err)
	}
	const block = "Exif\x00\x00GPS 53.4N 6.3W"
	head := []byte{0xff, 0xd8, 0xff, 0xe1, 0, byte(len(block) + 2)}
	return append(append(head, block...), plain.Bytes()[2:]...)
}

// postPhoto sends a photo with its form; nil for none chosen.
func postPhoto(t testing.TB, pages *Pages, address string, content []byte) *httptest.ResponseRecorder {
	t.Helper()
	name := ""
	if content != nil {
		name = "IMG_0001.jpg"
	}
	return postFile(t, pages, address, nil, "photo", name, string(content))
}

var photoIn = regexp.MustCompile(`<img src="([^"]+)"`)

func TestAPhotoIsKeptShownUndoneAndExported(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	if w := postPhoto(t, pages, "/diary/1/photo", aPhoto(t)); w.Code != http.StatusSeeOther {
		t.Fatalf("keeping a photo: %d\n%.400s", w.Code, w.Body)
	}
	found := photoIn.FindStringSubmatch(get(t, pages, "/diary?all=yes").Body.String())
	if found == nil {
		t.Fatal("the diary shows no photo")
	}
	small := get(t, pages, strings.ReplaceAll(found[1], "&amp;", "&"))
	if small.Code != http.StatusOK || small.Header().Get("Content-Type") != "image/jpeg" {
		t.Fatalf("the small picture: %d %v", small.Code, small.Header())
	}
	if size, err := jpeg.DecodeConfig(small.Body); err != nil || size.Width != 240 {
		t.Errorf("the small picture is %d wide, %v", size.Width, err)
	}
	whole := get(t, pages, "/diary/1/photo")
	if bytes.Contains(whole.Body.Bytes(), []byte("GPS")) || whole.Body.Len() == 0 {
		t.Error("the photo still says where it was taken")
	}
	if !strings.Contains(get(t, pages, "/diary/1").Body.String(), "Take the photo away") {
		t.Error("the line's page does not show the photo")
	}
	path := filepath.Join(t.TempDir(), "out.toml")
	written, err := app.ExportGarden(desk, path)
	if err != nil || !strings.Contains(strings.Join(written, " "), filepath.Join("out-photos", "")) {
		t.Errorf("exported %q, %v", written, err)
	}
	if w := post(t, pages, "/diary/1/photo-off", nil); w.Code != http.StatusSeeOther {
		t.Errorf("taking it away: %d", w.Code)
	}
	if w := get(t, pages, "/diary/1/photo"); w.Code != http.StatusNotFound {
		t.Errorf("a photo that was taken away: %d", w.Code)
	}
	for i, want := range []int{http.StatusOK, http.StatusNotFound} {
		if w := post(t, pages, "/diary/undo", nil); w.Code != http.StatusSeeOther {
			t.Fatalf("undo %d: %d", i+1, w.Code)
		}
		if w := get(t, pages, "/diary/1/photo"); w.Code != want {
			t.Errorf("after undo %d the photo gives %d, want %d", i+1, w.Code, want)
		}
	}
}

func TestPhotosThatAreRefused(t *testing.T) {
	pages, _ := site(t, runningDesk(t))
	for name, c := range map[string]struct {
		content []byte
		status  int
		says    string
	}{
		"none chosen":       {nil, 400, "no photo was chosen"},
		"empty":             {[]byte{}, 400, "no photo was chosen"},
		"a page named .jpg": {[]byte("<html><script>alert(1)</script>"), 422, "JPEG, PNG or WebP"},
		"too large":         {make([]byte, app.MostPhotoBytes+1), 400, "larger than 16 MB"},
		"far too large":     {make([]byte, 2*app.MostPhotoBytes), 400, "larger than 16 MB"},
	} {
		w := postPhoto(t, pages, "/diary/1/photo", c.content)
		if w.Code != c.status || !strings.Contains(strings.ToLower(w.Body.String()), strings.ToLower(c.says)) {
			t.Errorf("%s: status %d, want %d and %q", name, w.Code, c.status, c.says)
		}
	}
	if w := postPhoto(t, pages, "/diary/99999/photo", aPhoto(t)); w.Code != http.StatusNotFound {
		t.Errorf("a line that is not there: %d", w.Code)
	}
	if w := get(t, pages, "/diary/1/photo"); w.Code != http.StatusNotFound {
		t.Errorf("a refused photo is kept: %d", w.Code)
	}
}

func TestAPhotoInABrowser(t *testing.T) {
	pages, _ := site(t, runningDesk(t))
	lines, err := pages.desk.Diary()
	if err != nil {
		t.Fatal(err)
	}
	if w := postPhoto(t, pages, diaryHref(lines[len(lines)-1].ID)+"/photo", aPhoto(t)); w.Code != http.StatusSeeOther {
		t.Fatalf("keeping a photo: %d", w.Code)
	}
	_, server := siteOf(t, pages)
	b := openBrowser(t, server.URL)
	showAll(t, b, []string{"/diary", diaryHref(lines[len(lines)-1].ID)})
	b.open("/diary", 360)
	b.await("the small picture", `[...document.querySelectorAll(".photo img")].some(i => i.complete && i.naturalWidth > 0)`)
}
