package web

import (
	"archive/zip"
	"bytes"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"haulm/internal/app"
)

// sendDiary sends a diary with its form; nil for none chosen.
func sendDiary(t testing.TB, pages *Pages, address, name string, content []byte) *httptest.ResponseRecorder {
	t.Helper()
	if content == nil {
		name = ""
	}
	return postFile(t, pages, address, nil, "diary", name, string(content))
}

func linesOf(t testing.TB, desk *app.Desk) int {
	t.Helper()
	lines, err := desk.Diary()
	if err != nil {
		t.Fatal(err)
	}
	return len(lines)
}

// The zip of everything holds the diary with its photo; read in again it adds
// nothing, and after the lines are gone it brings them back with the photo.
func TestEverythingIsTakenOutAndTheDiaryBroughtIn(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	if w := postPhoto(t, pages, "/diary/1/photo", aPhoto(t)); w.Code != http.StatusSeeOther {
		t.Fatalf("keeping a photo: %d", w.Code)
	}
	w := get(t, pages, "/everything.zip")
	packed := bytes.Clone(w.Body.Bytes())
	z, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil || w.Header().Get("Content-Type") != "application/zip" || !strings.Contains(w.Header().Get("Content-Disposition"), "haulm-2027-06-24.zip") {
		t.Fatalf("%v, headers %v", err, w.Header())
	}
	names := ""
	for _, f := range z.File {
		names += f.Name + " "
	}
	for _, want := range []string{"README.txt", "garden.toml", "diary.csv", "plans.csv", "photos/"} {
		if !strings.Contains(names, want) {
			t.Errorf("the zip lacks %s: %s", want, names)
		}
	}
	before := linesOf(t, desk)
	w = sendDiary(t, pages, "/diary/read", "haulm.zip", packed)
	if w.Code != http.StatusSeeOther || linesOf(t, desk) != before {
		t.Fatalf("reading it in: %d, %d lines of %d\n%s", w.Code, linesOf(t, desk), before, faultsIn(w))
	}
	if page := get(t, pages, strings.TrimSuffix(w.Header().Get("Location"), "#main")).Body.String(); !strings.Contains(page, "Nothing new: the diary has ") {
		t.Error("the page does not say that nothing was new")
	}
	if err := desk.RemoveNote(1); err != nil {
		t.Fatal(err)
	}
	w = sendDiary(t, pages, "/diary/read", "haulm.zip", packed)
	if page := get(t, pages, strings.TrimSuffix(w.Header().Get("Location"), "#main")).Body.String(); !strings.Contains(page, "1 line written in the diary, with 1 photo") || linesOf(t, desk) != before {
		t.Errorf("the line did not come back: %s", w.Header().Get("Location"))
	}
}

// A garden that is only shown can be taken away as well.
func TestAShownGardenIsTakenOut(t *testing.T) {
	pages, _ := site(t, bareDesk(t))
	if w := get(t, pages, "/everything.zip"); w.Code != http.StatusOK || !strings.HasPrefix(w.Body.String(), "PK") {
		t.Errorf("status %d", w.Code)
	}
	if w := get(t, pages, "/diary.csv"); w.Code != http.StatusOK {
		t.Errorf("its diary: %d", w.Code)
	}
	if w := sendDiary(t, pages, "/diary/read", "mine.csv", []byte("day,what\n2027-01-01,note\n")); w.Code != http.StatusConflict || !strings.Contains(w.Body.String(), "only shown, not kept") {
		t.Errorf("reading one in: %d", w.Code)
	}
}

func TestADiaryTableIsReadAndUndone(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	before := linesOf(t, desk)
	table := []byte("day,what,amount,unit,place\n2027-06-20,rain,12,mm,\n2027-06-21,weeded,,,A bed that is gone\n")
	w := sendDiary(t, pages, "/diary/read", `C:\garden\mine.csv`, table)
	page := get(t, pages, strings.TrimSuffix(w.Header().Get("Location"), "#main")).Body.String()
	if w.Code != http.StatusSeeOther || linesOf(t, desk) != before+2 || !strings.Contains(page, "2 lines written in the diary.") || !strings.Contains(page, "mine.csv, line 3: no place is called") {
		t.Errorf("status %d, %d lines of %d", w.Code, linesOf(t, desk), before)
	}
	if w := post(t, pages, "/diary/undo", url.Values{"from": {"/diary"}}); w.Code != http.StatusSeeOther || linesOf(t, desk) != before {
		t.Errorf("undoing: %d, %d lines of %d", w.Code, linesOf(t, desk), before)
	}
	if got := get(t, pages, "/diary.csv"); !strings.HasPrefix(got.Body.String(), "\ufeffline,day,what,") || strings.Count(got.Body.String(), "\n") < before {
		t.Errorf("the diary as a table: %.200s", got.Body)
	}
}

func TestADiaryThatCannotBeReadSaysWhy(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	before := linesOf(t, desk)
	for says, content := range map[string][]byte{
		"No file was chosen": nil,
		"mine.csv, line 2: &#34;5/12/2027&#34; is no day: write it as 2027-05-12": []byte("day,what\n5/12/2027,note\n"),
		"holds no diary.csv":      zipOf(t, map[string][]byte{"other.txt": nil}),
		"no whole zip file":       []byte("PK\x03\x04 and no more"),
		"is not beside the diary": []byte("day,what,photo\n2027-05-12,note,photos/a.jpg\n"),
	} {
		w := sendDiary(t, pages, "/diary/read", "mine.csv", content)
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), says) || !strings.Contains(w.Body.String(), "Nothing was written.") || !strings.Contains(w.Body.String(), `<details id="read" open>`) {
			t.Errorf("%q: status %d, %s", says, w.Code, faultsIn(w))
		}
	}
	if linesOf(t, desk) != before {
		t.Error("something was written")
	}
}

// A zip that leads out of its folder, or unpacks to more than a diary and its
// photos ever are, is refused, and nothing of it is kept.
func TestAZipThatMeansHarmIsRefused(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	before := linesOf(t, desk)
	const head = "day,what,photo\n2027-05-12,note,"
	huge := bytes.Repeat([]byte{'\n'}, app.MostPhotoBytes+1)
	for says, files := range map[string]map[string][]byte{
		"holds no diary.csv":                       {"../diary.csv": []byte(head), "/diary.csv": []byte(head), `..\diary.csv`: []byte(head)},
		"lies outside the diary’s folder":          {"in/diary.csv": []byte(head + "../secret.jpg\n"), "secret.jpg": []byte("secret")},
		"the file is larger than 16 MB":            {"diary.csv": huge},
		"the photo is larger than 16 MB":           {"diary.csv": []byte(head + "a.jpg\n"), "a.jpg": huge},
		"the photo &#34;photos&#34; is not beside": {"diary.csv": []byte(head + "photos\n"), "photos/a.jpg": []byte("folder")},
		"is not beside the diary: put it there":    {"in/diary.csv": []byte(head + "secret.jpg\n"), "secret.jpg": []byte("secret")},
	} {
		w := sendDiary(t, pages, "/diary/read", "mine.zip", zipOf(t, files))
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), says) {
			t.Errorf("%q: status %d, %s", says, w.Code, faultsIn(w))
		}
	}
	if linesOf(t, desk) != before {
		t.Error("something was written")
	}
}

func zipOf(t *testing.T, files map[string][]byte) []byte {
	t.Helper()
	var packed bytes.Buffer
	z := zip.NewWriter(&packed)
	for name, text := range files {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write(text)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return packed.Bytes()
}

// A diary is brought in with the form, seen at the width of a phone.
func TestADiaryIsBroughtInInABrowser(t *testing.T) {
	desk := runningDesk(t)
	_, server := site(t, desk)
	b := openBrowser(t, server.URL)
	for _, width := range []int64{360, 1200} {
		b.open("/diary", width)
		eval[bool](b, `document.querySelector("#read").open = true`)
		script := `(() => { const d = new DataTransfer(); d.items.add(new File(["day,what\n2027-13-01,note\n"], "mine.csv")); document.querySelector("#diary-file").files = d.files; document.querySelector("#read button").click(); return true })()`
		eval[bool](b, script)
		b.await("the fault beside the form", `document.querySelector("#read-fault")`)
		time.Sleep(100 * time.Millisecond)
		b.fitsWidth("/diary", int(width))
		b.shot("diary-read-" + map[int64]string{360: "360", 1200: "1200"}[width])
		if checker := axe(t); checker != "" {
			b.accessible(checker, "/diary")
		}
	}
}
