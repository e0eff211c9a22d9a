//go:build unix

package plan

import (
	"cmp"
	"context"
	"os"
	"slices"
	"syscall"
	"testing"
	"time"
)

// processorClock counts the processor seconds of this process, shared out over
// threads: what a clock on the wall would show if nothing else ran on the machine.
func processorClock(threads int) func() time.Time {
	return func() time.Time {
		var used syscall.Rusage
		if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
			panic(err)
		}
		return time.Unix(0, (used.Utime.Nano()+used.Stime.Nano())/int64(threads))
	}
}

// measured are the runs whose gaps docs/performance.md shows.
var measured = []struct {
	name    string
	seconds float64
	setup   float64
}{
	{"small1", 5, 0}, {"medium1", 5, 0}, {"medium1", 60, 0}, {"large1", 15, 0}, {"large1", 60, 0},
	{"small1", 5, 0.3}, {"medium1", 5, 0.3}, {"medium1", 60, 0.3}, {"large1", 15, 0.3}, {"large1", 60, 0.3},
}

// BenchmarkGap reports how far apart the plan and its proven bound are after some
// seconds on two processors, counted as processor time so that a busy machine gives
// the same figures. With -benchtime Nx it tells the median of N seeds.
func BenchmarkGap(b *testing.B) {
	for _, m := range measured {
		name := m.name + "-" + time.Duration(m.seconds*1e9).String()
		if m.setup > 0 {
			name += "-setup"
		}
		b.Run(name, func(b *testing.B) {
			p := instance(b, m.name)
			p.SetupCost = m.setup
			if m.seconds > 15 && os.Getenv("HAULM_LONG") == "" {
				b.Skip("takes minutes: set HAULM_LONG to run it")
			}
			var all []Result
			for b.Loop() {
				o := Options{Seed: int64(len(all) + 1), Seconds: m.seconds, Threads: 2, Clock: processorClock(2)}
				all = append(all, Solve(context.Background(), p, o, nil))
			}
			slices.SortFunc(all, func(x, y Result) int { return cmp.Compare(x.Gap, y.Gap) })
			middle := all[len(all)/2]
			b.ReportMetric(100*middle.Gap, "gap%")
			b.ReportMetric(middle.Value, "value")
			b.ReportMetric(middle.Bound, "bound")
			b.ReportMetric(float64(len(middle.Plantings)), "plantings")
		})
	}
}
