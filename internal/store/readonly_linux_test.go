package store

import (
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
)

// asNobody runs work with the file rights of a user who owns nothing, where
// the test itself is run by root, whom no folder refuses.
func asNobody(t *testing.T, work func()) {
	t.Helper()
	if os.Getuid() != 0 {
		work()
		return
	}
	const nobody = 65534
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	must(t, syscall.Setfsuid(nobody))
	defer func() { must(t, syscall.Setfsuid(0)) }()
	work()
}

// passable lets anyone go through the two folders that the test made.
func passable(t *testing.T, folder string) {
	t.Helper()
	must(t, os.Chmod(folder, 0o777))
	must(t, os.Chmod(filepath.Dir(folder), 0o755))
}

func TestReadOnlyFolder(t *testing.T) {
	path := saved(t)
	folder := filepath.Dir(path)
	must(t, os.Chmod(path, 0o666))
	passable(t, folder)
	must(t, os.Chmod(folder, 0o555))
	defer func() { must(t, os.Chmod(folder, 0o755)) }()
	before := contents(t, path)
	asNobody(t, func() {
		if s, err := Open(path); KindOf(err) != ReadOnly {
			t.Errorf("opened in a read-only folder: %v, %v", s, err)
		}
		if _, err := Create(filepath.Join(folder, "new.haulm")); KindOf(err) != ReadOnly {
			t.Errorf("made in a read-only folder: %v", err)
		}
		if _, err := Create(filepath.Join(folder, "sub", "new.haulm")); KindOf(err) != ReadOnly {
			t.Errorf("made a folder in a read-only folder: %v", err)
		}
	})
	if string(contents(t, path)) != string(before) {
		t.Error("the file was changed")
	}
}

func TestReadOnlyFile(t *testing.T) {
	path := saved(t)
	must(t, os.Chmod(path, 0o444))
	passable(t, filepath.Dir(path))
	asNobody(t, func() {
		if _, err := Open(path); KindOf(err) != ReadOnly {
			t.Errorf("got %v", err)
		}
	})
}
