package app

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/csv"
	"image/jpeg"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/season"
	"haulm/internal/weather"
)

// photographed is a lived and closed year, with a photo with one of its lines
// and a planting that nobody planned.
func photographed(t *testing.T) *Desk {
	t.Helper()
	desk := livedYear(t)
	if err := desk.take(desk.planned); err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	add := func(e diary.Entry) int64 {
		t.Helper()
		id, err := desk.file.AddDiary(ctx, e, desk.now())
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	began := add(diary.Entry{Kind: diary.Sown, Day: calendar.On(2027, 4, 2), Place: "Long bed", Crop: "radish_summer"})
	pick := add(diary.Entry{Kind: diary.Picked, Day: calendar.On(2027, 5, 20), Place: "Long bed", Crop: "radish_summer", Planting: season.NotedKey(began),
		Amount: 0.25, Unit: diary.Pound, Text: "hot, \"French breakfast\";\nthe first"})
	add(diary.Entry{Kind: diary.Rain, Day: calendar.On(2027, 5, 20), Amount: 12, Unit: diary.Millimetre})
	add(diary.Entry{Kind: diary.Rain, Day: calendar.On(2027, 5, 20), Amount: 12, Unit: diary.Millimetre})
	var picture bytes.Buffer
	if err := jpeg.Encode(&picture, corner(60, 40), nil); err != nil {
		t.Fatal(err)
	}
	if err := desk.SetPhoto(pick, "image/jpeg", picture.Bytes()); err != nil {
		t.Fatal(err)
	}
	next, err := desk.NextYear(2027)
	if err != nil {
		t.Fatal(err)
	}
	if err := desk.StartNextYear(next); err != nil {
		t.Fatal(err)
	}
	return desk
}

// All that a household has in its garden goes into plain files, and the diary
// comes back from them into another garden line by line, with its photo and
// with what each line speaks of; read twice, nothing is doubled.
func TestEverythingIsTakenAwayAndTheDiaryComesBack(t *testing.T) {
	desk := photographed(t)
	folder := filepath.Join(t.TempDir(), "all")
	n, err := ExportEverything(desk, folder)
	if err != nil {
		t.Fatal(err)
	}
	files := filesIn(t, folder)
	if len(files) != n {
		t.Errorf("%d files were told, %d are there", n, len(files))
	}
	for _, want := range []string{"README.txt", "garden.toml", "diary.csv", "plans.csv", "plans/of-2027.json", "years.csv", "years/2027.json"} {
		if !slices.Contains(files, want) {
			t.Errorf("%s is missing among %q", want, files)
		}
	}
	tablesAreWhole(t, folder)

	other := emptyDesk(t, time.Date(2028, 1, 2, 9, 0, 0, 0, time.UTC))
	if _, err := ImportGarden(other, filepath.Join(folder, "garden.toml")); err != nil {
		t.Fatal(err)
	}
	if _, err := other.Note("note: written before"); err != nil { // so that numbers differ
		t.Fatal(err)
	}
	readTwice(t, other, os.DirFS(folder), len(diaryOf(t, desk)))
	sameDiary(t, diaryOf(t, desk), diaryOf(t, other)[:len(diaryOf(t, desk))])
	if words, err := other.UndoNote(); err != nil || !strings.Contains(words, "lines read from a file") {
		t.Errorf("undo: %q, %v", words, err)
	}
	if left := diaryOf(t, other); len(left) != 1 || left[0].Text != "written before" {
		t.Errorf("left after the undo: %+v", left)
	}
	readTwice(t, desk, os.DirFS(folder), 0)
	t.Run("as a zip", func(t *testing.T) { sameAsZip(t, desk, folder) })
}

func diaryOf(t *testing.T, d *Desk) []diary.Entry {
	t.Helper()
	entries, err := d.diaryEntries()
	if err != nil {
		t.Fatal(err)
	}
	return entries
}

func filesIn(t *testing.T, folder string) []string {
	t.Helper()
	var out []string
	err := fs.WalkDir(os.DirFS(folder), ".", func(path string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			out = append(out, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// tablesAreWhole reads every table with a plain CSV reader: as many cells in
// each line as columns are named.
func tablesAreWhole(t *testing.T, folder string) {
	t.Helper()
	for _, name := range []string{"diary.csv", "plans.csv", "years.csv"} {
		text, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
		if err != nil || len(rows) < 2 {
			t.Errorf("%s: %d lines, %v", name, len(rows), err)
		}
	}
}

func readFrom(t *testing.T, d *Desk, files fs.FS, name string) (*DiaryRead, error) {
	t.Helper()
	table, err := files.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer table.Close()
	return d.ReadDiary(table, name, files)
}

func readTwice(t *testing.T, d *Desk, files fs.FS, fresh int) {
	t.Helper()
	for _, want := range []int{fresh, 0} {
		read, err := readFrom(t, d, files, "diary.csv")
		if err != nil || read.Added != want || len(read.Doubts) > 0 {
			t.Fatalf("read %+v, %v, want %d new", read, err, want)
		}
		if want > 0 && read.Photos != 1 {
			t.Errorf("%d photos came, want 1", read.Photos)
		}
	}
}

// sameDiary holds two diaries against each other, but for the lines' numbers
// and the order of those of a day; a planting that a line of the diary began
// must be that of the same line.
func sameDiary(t *testing.T, want, got []diary.Entry) {
	t.Helper()
	bare := func(entries []diary.Entry) []string {
		number := map[int64]diary.Entry{}
		for _, e := range entries {
			number[e.ID] = e
		}
		var out []string
		for _, e := range entries {
			began := ""
			if by := season.NotedBy(e.Planting); by != 0 {
				b := number[by]
				e.Planting, began = "", b.Say(b.Crop)
			}
			e.ID = 0
			out = append(out, e.Say(e.Crop)+"|"+e.Planting+"|"+began+"|"+string(e.Unit)+"|"+map[bool]string{true: "photo"}[e.Photo])
		}
		slices.Sort(out)
		return out
	}
	a, b := bare(want), bare(got)
	for i := range a {
		if i >= len(b) || a[i] != b[i] {
			t.Fatalf("line %d of %d and %d differs:\n%s\n%s", i, len(a), len(b), a[i], b[min(i, len(b)-1)])
		}
	}
}

// sameAsZip holds a zip against the folder written before; neither is written
// over.
func sameAsZip(t *testing.T, desk *Desk, folder string) {
	packed := filepath.Join(t.TempDir(), "all.zip")
	if _, err := ExportEverything(desk, packed); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{folder, packed} {
		if _, err := ExportEverything(desk, path); err == nil || !strings.Contains(err.Error(), "is there already") {
			t.Errorf("%s written over: %v", path, err)
		}
	}
	z, err := zip.OpenReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	for _, name := range filesIn(t, folder) {
		want, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		f, err := z.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := io.ReadAll(f); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s differs in the zip, %v", name, err)
		}
	}
	readTwice(t, desk, z, 0)
}

// A record that the household gave goes with the garden and comes back with it.
func TestTheHouseholdsOwnWeatherIsTakenAway(t *testing.T) {
	desk := measuredDesk(t, time.Date(2040, 1, 1, 7, 0, 0, 0, time.UTC))
	folder := filepath.Join(t.TempDir(), "all")
	if _, err := ExportEverything(desk, folder); err != nil {
		t.Fatal(err)
	}
	if files := filesIn(t, folder); !slices.Contains(files, "weather.csv") || !slices.Contains(files, "weather/own.csv") {
		t.Errorf("the files are %q", files)
	}
	other := emptyDesk(t, desk.now())
	if _, err := ImportGarden(other, filepath.Join(folder, "garden.toml")); err != nil {
		t.Fatal(err)
	}
	want, err := desk.Weather()
	if err != nil {
		t.Fatal(err)
	}
	got, err := other.Weather()
	if err != nil {
		t.Fatal(err)
	}
	if got.Measured.Start != want.Measured.Start || !slices.Equal(got.Measured.TminC, want.Measured.TminC) || !slices.Equal(got.Measured.RainMM, want.Measured.RainMM) {
		t.Error("the record came back as another")
	}
}

// Records and hours whose names would give files of one name, also where a
// file system tells no capitals, are all taken away.
func TestNoTwoFilesHaveOneName(t *testing.T) {
	desk := measuredDesk(t, time.Date(2040, 1, 1, 7, 0, 0, 0, time.UTC))
	ctx := context.Background()
	rec, err := desk.file.LoadRecord(ctx, "own")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"OWN", "own-hours", "own:2", "own?2"} {
		if err := desk.file.SaveRecord(ctx, name, rec); err != nil {
			t.Fatal(err)
		}
	}
	hours := &weather.Hourly{Start: calendar.On(2039, 12, 30), TempC: make([]float64, 24), HumidityPC: make([]float64, 24)}
	if err := desk.KeepHours(hours); err != nil {
		t.Fatal(err)
	}
	folder := filepath.Join(t.TempDir(), "all")
	n, err := ExportEverything(desk, folder)
	if err != nil {
		t.Fatal(err)
	}
	files := filesIn(t, folder)
	names := map[string]bool{}
	for _, name := range files {
		names[strings.ToLower(name)] = true
	}
	if len(files) != n || len(names) != n || !names["weather/own-2-hours.csv"] {
		t.Errorf("%d files were told; there are %q", n, files)
	}
}

// demoDesk is the demonstration garden in a file, without a plan.
func demoDesk(t *testing.T) *Desk {
	t.Helper()
	desk := emptyDesk(t, time.Date(2027, 12, 31, 9, 0, 0, 0, time.UTC))
	if err := desk.SaveGarden(garden.Demo()); err != nil {
		t.Fatal(err)
	}
	return desk
}

// A table by hand is linked to what the garden grows and what its own lines
// began; read twice, nothing is doubled.
func TestADiaryByHandIsLinked(t *testing.T) {
	desk := demoDesk(t)
	files := fstest.MapFS{"mine.csv": {Data: []byte("day;what;crop;place;amount;unit\n" +
		"2026-07-15;picked;carrots;Long bed;1,2;kg\n2026-03-12;sown;carrots;Long bed;;\n2026-09-01;cleared;carrots;Long bed;;\n2026-09-03;picked;leeks;A bed that is gone;3;kg\n")}}
	read, err := readFrom(t, desk, files, "mine.csv")
	if err != nil || read.Added != 4 || len(read.Doubts) != 1 {
		t.Fatalf("read %+v, %v", read, err)
	}
	lines := diaryOf(t, desk)
	for _, e := range lines[1:3] {
		if e.Planting != season.NotedKey(lines[0].ID) {
			t.Errorf("%s is linked to %q, want what line %d began", e.Say(""), e.Planting, lines[0].ID)
		}
	}
	if read, err = readFrom(t, desk, files, "mine.csv"); err != nil || read.Added != 0 || read.Already != 4 {
		t.Errorf("read again %+v, %v", read, err)
	}
}

// What cannot be read in says where it is wrong, and nothing of it is kept.
func TestAFaultyDiaryIsNotReadIn(t *testing.T) {
	desk := demoDesk(t)
	const head = "line,day,what,crop,place,planting,photo\n1,2027-05-01,note,,,,\n"
	for text, want := range map[string]string{
		head + "2,2027-05-01,note,,,,photos/none.jpg": "diary.csv, line 3: the photo \"photos/none.jpg\" is not beside the diary",
		head + "2,2027-05-01,note,,,,../secret":       "lies outside the diary’s folder",
		head + "2,2027-05-01,note,,,,words.txt":       "line 3: photo words.txt: this is no photo",
		head + "2,2027-13-01,note":                    "diary.csv, line 3: \"2027-13-01\" is no day",
	} {
		files := fstest.MapFS{"diary.csv": {Data: []byte(text)}, "words.txt": {Data: []byte("words")}}
		if _, err := readFrom(t, desk, files, "diary.csv"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	if lines := diaryOf(t, desk); len(lines) != 0 {
		t.Errorf("kept all the same: %+v", lines)
	}
	orphan := fstest.MapFS{"diary.csv": {Data: []byte(head + "2,2027-05-01,up,leek,Long bed,noted/77,\n")}}
	read, err := readFrom(t, desk, orphan, "diary.csv")
	if err != nil || len(read.Doubts) != 1 || !strings.Contains(read.Doubts[0], "line number 77") || diaryOf(t, desk)[1].Planting != "" {
		t.Errorf("read %+v, %v", read, err)
	}
}
