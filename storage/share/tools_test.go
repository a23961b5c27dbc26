package share_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/roster"
	"loosebox/storage/share"
)

// badTool does to one file of a folder what sticks, sync programs and people do.
func badTool(t *rapid.T, dir string) {
	list := files(t, dir)
	if len(list) == 0 {
		return
	}
	name := rapid.SampledFrom(list).Draw(t, "file")
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	write := func(name string, data []byte) { require.NoError(t, os.WriteFile(name, data, 0o600)) }
	cut := rapid.IntRange(0, max(len(data)-1, 0)).Draw(t, "cut")
	switch act := rapid.SampledFrom([]string{"cut", "emptied", "zeros", "flipped", "copy", "cut copy", "removed", "wrong name", "wrong folder", "hidden", "another's bytes"}).Draw(t, "act"); act {
	case "cut":
		write(name, data[:cut])
	case "emptied":
		write(name, nil)
	case "zeros":
		write(name, make([]byte, len(data)))
	case "flipped":
		if len(data) > 0 {
			data[cut] ^= 1 << rapid.IntRange(0, 7).Draw(t, "bit")
			write(name, data)
		}
	case "copy":
		write(strings.TrimSuffix(name, ".seg")+" (conflict 2026-03-01).seg", data)
	case "cut copy":
		write(name+".1", data[:cut])
	case "removed":
		require.NoError(t, os.Remove(name))
	case "wrong name":
		require.NoError(t, os.Rename(name, filepath.Join(filepath.Dir(name), fmt.Sprint(cut, "-1-00.seg"))))
	case "wrong folder":
		to := filepath.Join(dir, rapid.SampledFrom([]string{".", "Photos", "00"}).Draw(t, "folder"))
		require.NoError(t, os.MkdirAll(to, 0o700))
		require.NoError(t, os.Rename(name, filepath.Join(to, filepath.Base(name))))
	case "hidden":
		require.NoError(t, os.Rename(name, filepath.Join(filepath.Dir(name), "."+filepath.Base(name))))
	case "another's bytes":
		other, err := os.ReadFile(rapid.SampledFrom(list).Draw(t, "other"))
		require.NoError(t, err)
		write(name, other)
	}
}

// pulled is a record whose stick is pulled out after some segments.
func pulled(l *laptop, after int) counting {
	return counting{l, func() {
		if after--; after < 0 {
			panic(errPulled)
		}
	}}
}

var errPulled = fmt.Errorf("the stick was pulled")

// Three laptops examine and share through one folder, with a stick that is pulled while
// it is written and a tool that spoils files, sealed or not. Once that is over, and each has
// shared again, all three and a new laptop hold the same.
func TestABadToolAndAPulledStickLoseNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stick, err := os.MkdirTemp("", "loosebox-stick-*")
		require.NoError(t, err)
		defer func() { _ = os.RemoveAll(stick) }()
		var all []*laptop
		for _, name := range []string{"ann", "bea", "cal", "new"} {
			l := rapidLaptop(t, name)
			defer l.end()
			all = append(all, l.laptop)
		}
		three := all[:3]
		clinic := newClinic(9)
		sealed := rapid.Bool().Draw(t, "sealed")
		if sealed {
			said := []roster.Statement{clinic.seals(t, true)}
			for _, l := range three {
				said = append(said, clinic.says(t, l, false, nil))
			}
			for _, l := range all {
				l.take(t, said...)
			}
		}
		runs := map[*laptop]*share.Folder{}
		for range rapid.IntRange(4, 16).Draw(t, "acts") {
			l := rapid.SampledFrom(three).Draw(t, "laptop")
			switch rapid.SampledFrom([]string{"examine", "exchange", "go on", "pull", "spoil", "spoil"}).Draw(t, "what") {
			case "examine":
				l.examine(t, rapid.IntRange(0, 4).Draw(t, "findings"))
			case "exchange": // lines after a file that was spoilt may have to wait
				done, err := share.New(stick).Exchange(context.Background(), l)
				require.NoError(t, err)
				require.NoError(t, done.Unwritten)
			case "go on":
				if runs[l] == nil {
					runs[l] = share.New(stick)
				}
				_, err := runs[l].Exchange(context.Background(), l)
				require.NoError(t, err)
			case "pull":
				pull(t, l, stick)
			case "spoil":
				badTool(t, stick)
			}
		}
		if sealed { // the new one comes in when the most of it is on the stick
			in := clinic.says(t, all[3], false, nil)
			all[0].take(t, in)
			all[3].take(t, in)
		}
		for range 2 {
			for _, l := range three {
				_, err := share.New(stick).Exchange(context.Background(), l)
				require.NoError(t, err)
			}
		}
		for _, l := range three {
			l.exchange(t, stick)
		}
		all[3].exchange(t, stick)
		same(t, all...)
	})
}

// pull breaks an exchange off in the write, or before the file has its name.
func pull(t *rapid.T, l *laptop, stick string) {
	func() {
		defer func() {
			if p := recover(); p != nil {
				require.Equal(t, errPulled, p)
			}
		}()
		_, err := share.New(stick).Exchange(context.Background(), pulled(l, rapid.IntRange(0, 2).Draw(t, "after")))
		require.NoError(t, err)
	}()
	machine, _, err := l.Reached()
	require.NoError(t, err)
	logs, err := l.Logs()
	require.NoError(t, err)
	for _, h := range logs {
		s, err := l.Next(h.Row, 0, 1)
		require.NoError(t, err)
		dir := filepath.Join(stick, h.Log.String())
		require.NoError(t, os.MkdirAll(dir, 0o700))
		half := s.Bytes()
		half = half[:rapid.IntRange(0, len(half)).Draw(t, "half")]
		require.NoError(t, os.WriteFile(filepath.Join(dir, ".new-"+machine[:8]+"-0.tmp"), half, 0o600))
	}
}

// What was half written is removed by the laptop that wrote it, and by no other.
func TestWhatWasHalfWrittenIsRemoved(t *testing.T) {
	stick := t.TempDir()
	ann := newLaptop(t, "ann")
	ann.examine(t, 2)
	ann.exchange(t, stick)
	dir := filepath.Dir(files(t, stick)[0])
	machine, _, err := ann.Reached()
	require.NoError(t, err)
	own, other := filepath.Join(dir, ".new-"+machine[:8]+"-3.tmp"), filepath.Join(dir, ".new-00000000-0.tmp")
	require.NoError(t, os.WriteFile(own, []byte("half"), 0o600))
	require.NoError(t, os.WriteFile(other, []byte("half"), 0o600))
	ann.examine(t, 2)
	ann.exchange(t, stick)
	assert.NoFileExists(t, own)
	assert.FileExists(t, other)
}

// A file that is broken is left as it is and gets a sound one beside it, whatever its name.
func TestABrokenFileGetsASoundOneBesideIt(t *testing.T) {
	stick := t.TempDir()
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	ann.examine(t, 2)
	ann.exchange(t, stick)
	name := files(t, stick)[0]
	for range 3 {
		for _, f := range files(t, stick) {
			require.NoError(t, os.WriteFile(f, []byte("rubbish"), 0o600))
		}
		done := ann.exchange(t, stick)
		assert.Equal(t, 1, done.Files)
		assert.Positive(t, done.Broken)
	}
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "rubbish", string(data))
	bea.exchange(t, stick)
	same(t, ann, bea)
}

// A program that syncs folders shows a file with its size and its time before it has fetched what is in it: the exchanges of
// the same run take it once it is there.
func TestAFileThatIsFilledLater(t *testing.T) {
	stick := t.TempDir()
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	ann.examine(t, 2)
	ann.exchange(t, stick)
	name := files(t, stick)[0]
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	put := func(data []byte) {
		at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
		require.NoError(t, os.WriteFile(name, data, 0o600))
		require.NoError(t, os.Chtimes(name, at, at))
	}
	for what, early := range map[string][]byte{"nothing": make([]byte, len(data)), "its beginning": append(bytes.Clone(data[:len(data)/2]), make([]byte, len(data)-len(data)/2)...)} {
		folder := share.New(stick)
		put(early)
		done, err := folder.Exchange(t.Context(), bea)
		require.NoError(t, err, what)
		assert.Equal(t, 1, done.Broken, what)
		put(data)
		done, err = folder.Exchange(t.Context(), bea)
		require.NoError(t, err, what)
		assert.Zero(t, done.Broken, what)
	}
	same(t, ann, bea)
}

// A stick with other things on it: they are neither read nor touched.
func TestAStickFullOfOtherThings(t *testing.T) {
	stick := t.TempDir()
	for d := range 10 {
		dir := filepath.Join(stick, fmt.Sprint("Photos ", d))
		require.NoError(t, os.Mkdir(dir, 0o700))
		for i := range 1000 {
			require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprint(i, ".jpg")), nil, 0o600))
		}
	}
	big, err := os.Create(filepath.Join(stick, "film.seg"))
	require.NoError(t, err)
	require.NoError(t, big.Truncate(4<<30))
	require.NoError(t, big.Close())
	require.NoError(t, os.WriteFile(filepath.Join(stick, "a.seg"), bytes.Repeat([]byte("x"), 1<<20), 0o600))
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	ann.examine(t, 2)
	bea.examine(t, 2)
	assert.Equal(t, 2, ann.exchange(t, stick).Broken)
	bea.exchange(t, stick)
	ann.exchange(t, stick)
	same(t, ann, bea)
	for d := range 10 {
		list, err := os.ReadDir(filepath.Join(stick, fmt.Sprint("Photos ", d)))
		require.NoError(t, err)
		assert.Len(t, list, 1000)
	}
}

// A folder that was copied with its key goes on in both places: each sees that it was
// copied, nothing is lost, and both count on every laptop.
func TestTheSameLaptopCopied(t *testing.T) {
	stick := t.TempDir()
	ann := newLaptop(t, "ann")
	ann.examine(t, 2)
	require.NoError(t, ann.Close())
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS(ann.dir)))
	one, two := openLaptop(t, "ann", ann.dir), openLaptop(t, "twin", dir)
	one.examine(t, 2)
	two.examine(t, 3)
	one.exchange(t, stick)
	done, err := share.New(stick).Exchange(context.Background(), two)
	require.NoError(t, err)
	require.NoError(t, done.Unwritten)
	assert.Empty(t, done.In.Aside)
	assert.Len(t, done.In.Branches, 1)
	assert.Len(t, files(t, stick), 2, "both branches are in the folder")
	for range 2 {
		done, err = share.New(stick).Exchange(context.Background(), one)
		require.NoError(t, err)
		assert.Zero(t, done.Files, "a branch that is there is not written again")
	}
	one.sound(t)
	two.sound(t)

	// From then on each goes on in a log of its own, and what it writes reaches everybody.
	cal := newLaptop(t, "cal")
	late := []exam.VisitID{one.examine(t, 2), two.examine(t, 2)}
	for _, l := range []*laptop{one, two, cal, one, two} {
		_, err = share.New(stick).Exchange(context.Background(), l)
		require.NoError(t, err)
	}
	for _, l := range []*laptop{one, two, cal} {
		for _, id := range late {
			_, err = l.Visit(id)
			require.NoError(t, err, l.name)
		}
	}
	same(t, one, two, cal)
	visits := []int{}
	for _, l := range []*laptop{one, two, cal} {
		list, err := l.Recent(0)
		require.NoError(t, err)
		visits = append(visits, len(list))
	}
	assert.Equal(t, []int{5, 5, 5}, visits, "one before the copy, one of each branch, one of each after")
}
