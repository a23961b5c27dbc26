package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/due"
)

// herd is a store of many horses without visits. It counts how many were read of which
// nothing was printed yet.
type herd struct {
	exam.Store
	horses  int
	broken  int // the horse whose visits cannot be read, from 1
	read    atomic.Int64
	printed atomic.Int64
	most    atomic.Int64 // read, and not printed yet
}

func (h *herd) Horses() ([]exam.Found, error) {
	all := make([]exam.Found, h.horses)
	for i := range all {
		all[i].Horse = exam.Horse{ID: exam.HorseID(fmt.Sprint(i + 1)), Name: fmt.Sprintf("Horse <%d>", i+1), Kind: exam.AnimalHorse}
	}
	return all, nil
}

func (h *herd) Outline(id exam.HorseID, _ time.Time) ([]exam.Visit, error) {
	if id == exam.HorseID(fmt.Sprint(h.broken)) {
		return nil, errors.New("a page is gone")
	}
	held := h.read.Add(1) - h.printed.Load()
	for {
		most := h.most.Load()
		if held <= most || h.most.CompareAndSwap(most, held) {
			return nil, nil
		}
	}
}

// printer counts the horses that come out by a text that stands once with each.
type printer struct {
	bytes.Buffer
	herd *herd
	each string
}

func (p *printer) Write(b []byte) (int, error) {
	p.herd.printed.Add(int64(bytes.Count(b, []byte(p.each))))
	return p.Buffer.Write(b)
}

// dueOf prints what is due of every horse.
func dueOf(t *testing.T, h *herd, asJSON bool) (out string, e *env, err error) {
	t.Helper()
	table, err := due.BuiltIn()
	require.NoError(t, err)
	p := &printer{herd: h, each: "Horse <"}
	e = &env{out: p, errOut: io.Discard, now: func() time.Time { return time.Unix(1.8e9, 0).UTC() }, lookup: func(string) string { return "" }}
	err = e.due(h, table, nil, asJSON)
	return p.String(), e, err
}

// However many horses there are, few are held: each is printed before many more are read.
func TestWhatIsDueIsPrintedAsItIsRead(t *testing.T) {
	t.Parallel()
	for _, asJSON := range []bool{false, true} {
		h := &herd{horses: 2000}
		out, _, err := dueOf(t, h, asJSON)
		require.NoError(t, err)
		assert.EqualValues(t, h.horses, h.printed.Load())
		assert.LessOrEqual(t, h.most.Load(), int64(6*runtime.GOMAXPROCS(0)))
		assert.Less(t, strings.Index(out, "Horse <9>"), strings.Index(out, "Horse <1999>"))
	}
}

// The object that is written piece by piece is the one that is written at once.
func TestDueJSONIsWrittenAsOneObject(t *testing.T) {
	t.Parallel()
	table, err := due.BuiltIn()
	require.NoError(t, err)
	for _, n := range []int{0, 1, 3} {
		h := &herd{horses: n}
		out, e, err := dueOf(t, h, true)
		require.NoError(t, err)
		whole := due.NewDocument(table, e.now())
		horses, err := h.Horses()
		require.NoError(t, err)
		for _, f := range horses {
			whole.Horses = append(whole.Horses, table.For(f.Horse, nil, e.now()).Line())
		}
		var want bytes.Buffer
		require.NoError(t, (&env{out: &want}).printJSON(whole))
		assert.Equal(t, want.String(), out)
		assert.True(t, e.printed)
	}
}

// A horse that cannot be read ends the object with the error: it stays one.
func TestDueJSONWithAHorseThatCannotBeRead(t *testing.T) {
	t.Parallel()
	for _, broken := range []int{1, 40} {
		out, e, err := dueOf(t, &herd{horses: 60, broken: broken}, true)
		require.ErrorContains(t, err, "the visits of Horse <")
		p := &bytes.Buffer{}
		e.out = p
		require.NoError(t, e.endJSON(failureOf(&cobra.Command{Use: "loosebox"}, exitDamaged, err.Error())))
		var o struct {
			Schema string
			Horses []due.HorseJSON
			Error  struct{ Code int }
		}
		require.NoError(t, json.Unmarshal([]byte(out+p.String()), &o), "%d: %s", broken, out+p.String())
		assert.Equal(t, exitDamaged, o.Error.Code)
		assert.Len(t, o.Horses, broken-1)
	}
}
