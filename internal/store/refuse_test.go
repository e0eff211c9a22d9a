package store

import (
	"bytes"
	"database/sql"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"haulm/internal/garden"
)

// saved makes a closed garden file with the demonstration in it.
func saved(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "g.haulm")
	s, err := Create(path)
	must(t, err)
	must(t, s.SaveGarden(ctx, garden.Demo(), now))
	must(t, s.Close())
	return path
}

func contents(t *testing.T, path string) []byte {
	t.Helper()
	raw, err := os.ReadFile(path)
	must(t, err)
	return raw
}

// write puts raw in a file of its own.
func write(t *testing.T, raw []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "file.haulm")
	must(t, os.WriteFile(path, raw, 0o600))
	return path
}

// otherDatabase is a sound SQLite file of another program.
func otherDatabase(t *testing.T) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "other.db")
	db, err := sql.Open("sqlite", path)
	must(t, err)
	_, err = db.Exec("CREATE TABLE garden (x); INSERT INTO garden VALUES (1)")
	must(t, err)
	must(t, db.Close())
	return contents(t, path)
}

func TestOpenRefusesAndLeavesAlone(t *testing.T) {
	good := contents(t, saved(t))
	newer := bytes.Clone(good)
	binary.BigEndian.PutUint32(newer[userVersionOffset:], uint32(latest()+3))
	scribbled := bytes.Clone(good)
	for i := 4096; i < 8192; i++ {
		scribbled[i] = byte(i * 7)
	}
	cases := []struct {
		name string
		raw  []byte
		kind Kind
		want string
	}{
		{"text", []byte(garden.DemoText), NotGarden, "this is not a garden file; nothing was changed"},
		{"short text", []byte("hello"), NotGarden, "this is not a garden file"},
		{"picture", append([]byte("\x89PNG\r\n\x1a\n"), make([]byte, 500)...), NotGarden, "this is not a garden file"},
		{"empty", nil, NotGarden, "this file is empty"},
		{"another program's database", otherDatabase(t), NotGarden, "another program's database"},
		{"newer", newer, Newer, fmt.Sprintf("written by a newer Haulm (file version %d, this one knows %d); update Haulm", latest()+3, latest())},
		{"scribbled on", scribbled, Damaged, "it is damaged; nothing was changed"},
		{"cut short", good[:len(good)/2], Damaged, "it is damaged"},
		{"cut inside the header", good[:60], NotGarden, "this is not a garden file"},
		{"cut after the first page", good[:4096], Damaged, "it is damaged"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			path := write(t, c.raw)
			s, err := Open(path)
			if err == nil {
				_ = s.Close()
				t.Fatal("opened")
			}
			if KindOf(err) != c.kind || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), path) {
				t.Errorf("got  %v (%s)\nwant … %s … (%s)", err, KindOf(err), c.want, c.kind)
			}
			if !bytes.Equal(contents(t, path), c.raw) {
				t.Error("the file was changed")
			}
			if entries, _ := os.ReadDir(filepath.Dir(path)); len(entries) != 1 {
				t.Errorf("files were left beside it: %v", entries)
			}
		})
	}
}

func TestOpenRefusesWhatIsNoFile(t *testing.T) {
	folder := t.TempDir()
	if _, err := Open(folder); KindOf(err) != NotGarden || !strings.Contains(err.Error(), "this is a folder") {
		t.Errorf("folder: %v", err)
	}
	path := filepath.Join(folder, "none.haulm")
	if _, err := Open(path); KindOf(err) != Missing {
		t.Errorf("missing: %v", err)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("opening made the file")
	}
}

func TestCreateRefusesWhatIsThere(t *testing.T) {
	path := write(t, []byte("my diary"))
	if _, err := Create(path); KindOf(err) != Exists {
		t.Errorf("got %v", err)
	}
	if string(contents(t, path)) != "my diary" {
		t.Error("the file was changed")
	}
	if _, err := Create(filepath.Join(path, "g.haulm")); KindOf(err) != ReadOnly {
		t.Errorf("a file for a folder: %v", err)
	}
}

// The version of a file can stand in its log alone when its writer died.
func TestNewerVersionInTheLogIsSeen(t *testing.T) {
	path := saved(t)
	s, err := Open(path)
	must(t, err)
	_, err = s.write.Exec("PRAGMA user_version = 9")
	must(t, err)
	copied := filepath.Join(t.TempDir(), "g.haulm")
	for _, suffix := range []string{"", "-wal"} {
		must(t, os.WriteFile(copied+suffix, contents(t, path+suffix), 0o600))
	}
	must(t, s.Close())
	if _, err := Open(copied); KindOf(err) != Newer {
		t.Errorf("got %v", err)
	}
}

func TestMigrationsRunInOrderAndWholly(t *testing.T) {
	steps, err := readMigrations(fstest.MapFS{
		"migrations/0002_b.sql": {Data: []byte("ALTER TABLE a ADD COLUMN y")},
		"migrations/0001_a.sql": {Data: []byte("CREATE TABLE a (x)")},
	})
	must(t, err)
	s := fresh(t)
	version := latest()
	for i, step := range append(steps, "INSERT INTO a VALUES (1, 2)") {
		must(t, s.step(step, version+i+1))
	}
	must(t, s.step("this is passed over", version+3))
	if err := s.step("CREATE TABLE b (x); CREATE TABLE a (x)", version+4); err == nil {
		t.Fatal("a table made twice passed")
	}
	if got, err := userVersion(s.write); err != nil || got != version+3 {
		t.Errorf("version %d, want %d: %v", got, version+3, err)
	}
	var tables int
	must(t, s.write.QueryRow("SELECT count(*) FROM sqlite_schema WHERE name = 'b'").Scan(&tables))
	if tables != 0 {
		t.Error("half a migration stayed")
	}
	if _, err := readMigrations(fstest.MapFS{"migrations/0002_b.sql": {}}); err == nil {
		t.Error("a gap in the numbers passed")
	}
}

func TestOlderFileIsCopiedBeforeMigrating(t *testing.T) {
	path := saved(t)
	s, err := Open(path)
	must(t, err)
	old, next := latest(), latest()+1
	must(t, s.migrate(append(migrations()[:old:old], "CREATE TABLE extra (x)")))
	if got, err := userVersion(s.write); err != nil || got != next {
		t.Errorf("version %d, want %d: %v", got, next, err)
	}
	must(t, s.Close())
	before, err := Open(fmt.Sprintf("%s.version-%d", path, old))
	must(t, err)
	defer before.Close()
	if got, err := before.LoadGarden(ctx); err != nil || !reflect.DeepEqual(got, garden.Demo()) {
		t.Errorf("the copy holds something else: %v", err)
	}
}

func TestDefaultPath(t *testing.T) {
	env := func(pairs ...string) func(string) string {
		return func(key string) string {
			for i := 0; i < len(pairs); i += 2 {
				if pairs[i] == key {
					return pairs[i+1]
				}
			}
			return ""
		}
	}
	cases := []struct {
		goos string
		env  func(string) string
		home string
		want string
	}{
		{"linux", env(), "/home/a", "/home/a/.local/share/haulm/garden.haulm"},
		{"linux", env("XDG_DATA_HOME", "/data"), "/home/a", "/data/haulm/garden.haulm"},
		{"freebsd", env("XDG_DATA_HOME", "relative"), "/home/a", "/home/a/.local/share/haulm/garden.haulm"},
		{"darwin", env(), "/Users/a", "/Users/a/Library/Application Support/haulm/garden.haulm"},
		{"windows", env("AppData", `C:\Users\a\AppData\Roaming`), "", `C:\Users\a\AppData\Roaming\haulm\garden.haulm`},
		{"windows", env(), "x", ""},
		{"linux", env(), "", ""},
	}
	for _, c := range cases {
		got, err := defaultPath(c.goos, c.env, c.home)
		if got != c.want || (err == nil) != (c.want != "") {
			t.Errorf("%s: got %q, %v; want %q", c.goos, got, err, c.want)
		}
	}
}
