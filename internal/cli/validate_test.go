package cli

import (
	"strings"
	"testing"
)

func TestValidateWithoutTheSharedFolder(t *testing.T) {
	got := haulm("validate", "--shared", t.TempDir())
	if got.code != exitBad || got.out != "" || !strings.Contains(got.err, "published trials are not in") || strings.Count(got.err, "\n") != 1 {
		t.Errorf("%+v", got)
	}
}
