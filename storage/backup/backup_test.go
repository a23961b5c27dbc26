package backup_test

import (
	"archive/tar"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"filippo.io/age"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/signedlog"
	"loosebox/storage"
	"loosebox/storage/backup"
)

const phrase = "four dry oat bags"

func day() time.Time { return time.Date(2026, 3, 1, 9, 0, 0, 0, time.FixedZone("", 3600)) }

// yard is an open record with closed visits and a practice's own files.
func yard(t *testing.T) (*storage.Record, string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "data")
	r, err := storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	t.Cleanup(func() { _ = r.Close() })
	h, err := r.SaveHorse(exam.Horse{Revision: 1, Name: "Bracken", Kind: exam.AnimalPony}, "Ann", day())
	require.NoError(t, err)
	for range 3 {
		visit(t, r, h.ID)
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ranges.csv"), []byte("measure\n"), 0o600))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "routines"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "routines", "mine.yaml"), []byte("name: mine\n"), 0o600))
	return r, dir
}

func visit(t testing.TB, r *storage.Record, h exam.HorseID) exam.VisitID {
	t.Helper()
	v, err := r.Begin(exam.Entry{Kind: exam.EntryOpened, At: day(), By: "Ann", Opening: &exam.Opening{Horse: exam.Horse{ID: h}, Routine: "full"}})
	require.NoError(t, err)
	for i := range 20 {
		_, err := r.Append(exam.Entry{
			Visit: v.ID, Kind: exam.EntryFinding, At: day(), By: "Ann", Step: exam.StepID(fmt.Sprintf("step.%d", i)), Note: strings.Repeat("x", 300),
			Value: &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: 38.1, Unit: notation.Celsius}},
		})
		require.NoError(t, err)
	}
	_, err = r.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryClosed, At: day(), By: "Ann"})
	require.NoError(t, err)
	return v.ID
}

func recipient(t testing.TB) age.Recipient {
	t.Helper()
	to, err := backup.ToPassphrase(phrase, 10)
	require.NoError(t, err)
	return to
}

func identity(t testing.TB, words string) age.Identity {
	t.Helper()
	id, err := backup.WithPassphrase(words)
	require.NoError(t, err)
	return id
}

// whole opens a restored folder and checks every line.
func whole(dir string) error {
	r, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return err
	}
	report, err := r.Check(context.Background())
	if err == nil && !report.OK {
		err = fmt.Errorf("%v", report.Broken)
	}
	return errors.Join(err, r.Close())
}

func saved(t *testing.T) (file string, r *storage.Record, dir string) {
	t.Helper()
	r, dir = yard(t)
	file = filepath.Join(t.TempDir(), "b.tar.age")
	_, err := backup.From{Record: r, Folder: dir, At: day()}.Save(context.Background(), file, "", recipient(t))
	require.NoError(t, err)
	return file, r, dir
}

func TestABackupComesBackWhole(t *testing.T) {
	file, r, dir := saved(t)
	before, err := r.Recent(0)
	require.NoError(t, err)
	to := filepath.Join(t.TempDir(), "new", "place")
	about, err := backup.Restore(context.Background(), file, to, whole, identity(t, phrase))
	require.NoError(t, err)
	assert.True(t, about.At.Equal(day()))
	assert.EqualValues(t, 1+3*22, about.Lines)
	again, err := storage.Open(to, storage.Options{})
	require.NoError(t, err)
	after, err := again.Recent(0)
	require.NoError(t, err)
	assert.Equal(t, before, after)
	machine, _, err := again.Reached()
	require.NoError(t, err)
	assert.NotEqual(t, about.Machine, machine, "no key came with it")
	require.NoError(t, again.Close())
	for _, name := range []string{"ranges.csv", "routines/mine.yaml"} {
		want, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		got, err := os.ReadFile(filepath.Join(to, name))
		require.NoError(t, err)
		assert.Equal(t, want, got, name)
	}
	_, err = backup.Restore(context.Background(), file, to, whole, identity(t, phrase))
	require.ErrorContains(t, err, "holds a record already")
	left, err := os.ReadDir(filepath.Dir(to))
	require.NoError(t, err)
	assert.Len(t, left, 1, "nothing lies about")
	_, err = backup.From{Record: r, Folder: dir, At: day()}.Save(context.Background(), file, "", recipient(t))
	require.ErrorContains(t, err, "there already")
}

// What is inside can be read without this program: age, then tar.
func TestABackupIsTarInsideAge(t *testing.T) {
	file, _, _ := saved(t)
	f, err := os.Open(file)
	require.NoError(t, err)
	defer func() { require.NoError(t, f.Close()) }()
	plain, err := age.Decrypt(f, identity(t, phrase))
	require.NoError(t, err)
	var names []string
	archive := tar.NewReader(plain)
	for {
		h, err := archive.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		assert.EqualValues(t, 0o600, h.Mode)
		names = append(names, h.Name)
	}
	assert.Equal(t, []string{"backup.json", "record.db", "ranges.csv", "routines/mine.yaml"}, names)
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.NotContains(t, string(data), "Bracken")
}

// age's own cases: another passphrase, a flipped bit, a cut tail. Nothing is
// restored, and the place stays empty.
func TestADamagedBackupRestoresNothing(t *testing.T) {
	file, _, _ := saved(t)
	good, err := os.ReadFile(file)
	require.NoError(t, err)
	dir := t.TempDir()
	damaged, to := filepath.Join(dir, "d.tar.age"), filepath.Join(dir, "place")
	refused := func(what string, data []byte, words string) {
		t.Helper()
		require.NoError(t, os.WriteFile(damaged, data, 0o600))
		_, err := backup.Restore(context.Background(), damaged, to, whole, identity(t, words))
		require.ErrorIs(t, err, backup.ErrNotWhole, what)
		left, err := os.ReadDir(dir)
		require.NoError(t, err)
		require.Len(t, left, 1, "%s: only the file itself", what)
	}
	refused("another passphrase", good, "four dry oat bag")
	refused("nothing", nil, phrase)
	refused("a text", []byte("Dear yard, this is no backup."), phrase)
	rnd := rand.New(rand.NewPCG(2026, 7))
	body := bytes.Index(good, []byte("\n---")) // the header ends with its own code
	for range 40 {
		data := bytes.Clone(good)
		at := body + rnd.IntN(len(data)-body)
		data[at] ^= 1 << rnd.IntN(8)
		refused(fmt.Sprintf("a bit of byte %d", at), data, phrase)
	}
	for _, chunk := range []int{64<<10 + 16, 2 * (64<<10 + 16)} { // STREAM: chunks of 64 KiB with a tag of 16 bytes
		start := bytes.IndexByte(good[body+1:], '\n') + body + 2 + 16
		for _, off := range []int{-1, 0, 1} {
			if n := start + chunk + off; n < len(good) {
				refused(fmt.Sprintf("cut at %d", n), good[:n], phrase)
			}
		}
	}
	for range 20 {
		n := rnd.IntN(len(good))
		refused(fmt.Sprintf("cut at %d", n), good[:n], phrase)
	}
	refused("cut by one byte", good[:len(good)-1], phrase)
	refused("one byte more", append(bytes.Clone(good), 0), phrase)
}

// A whole, well encrypted file that somebody else filled.
func TestABackupOfAnotherShapeIsRefused(t *testing.T) {
	outside := t.TempDir()
	for name, headers := range map[string][]*tar.Header{
		"a way out":       {{Name: "../x", Size: 1}},
		"another way out": {{Name: "routines/../../x.yaml", Size: 1}},
		"a full path":     {{Name: filepath.Join(outside, "x.csv"), Size: 1}},
		"a link":          {{Name: "record.db", Typeflag: tar.TypeSymlink, Linkname: "/etc/passwd"}},
		"a program":       {{Name: "loosebox", Size: 1}},
		"one name twice":  {{Name: "ranges.csv", Size: 1}, {Name: "ranges.csv", Size: 1}},
		"no record":       {{Name: "ranges.csv", Size: 1}},
		"a huge table":    {{Name: "ranges.csv", Size: 11 << 20}},
		"no json":         {{Name: "backup.json", Size: 1}, {Name: "record.db", Size: 1}},
	} {
		var b bytes.Buffer
		enc, err := age.Encrypt(&b, recipient(t))
		require.NoError(t, err)
		archive := tar.NewWriter(enc)
		for _, h := range headers {
			require.NoError(t, archive.WriteHeader(h))
			_, err := archive.Write(make([]byte, h.Size))
			require.NoError(t, err)
		}
		require.NoError(t, errors.Join(archive.Close(), enc.Close()))
		dir := t.TempDir()
		_, err = backup.Unpack(&b, dir, identity(t, phrase))
		require.ErrorIs(t, err, backup.ErrNotWhole, name)
		assert.NoFileExists(t, filepath.Join(filepath.Dir(dir), "x"), name)
	}
	left, err := os.ReadDir(outside)
	require.NoError(t, err)
	assert.Empty(t, left)
}

// A record that is whole as a file but not as a record is not restored either.
func TestABackupOfABrokenRecordRestoresNothing(t *testing.T) {
	file, _, _ := saved(t)
	to := filepath.Join(t.TempDir(), "place")
	_, err := backup.Restore(context.Background(), file, to, func(string) error { return errors.New("line 3 is broken") }, identity(t, phrase))
	require.ErrorContains(t, err, "line 3 is broken")
	assert.NoDirExists(t, to)
}

func TestABackupIsMadeWhileOthersWrite(t *testing.T) {
	r, dir := yard(t)
	found, err := r.Horses()
	require.NoError(t, err)
	stop := make(chan struct{})
	var writers sync.WaitGroup
	writers.Add(1)
	go func() {
		defer writers.Done()
		for {
			select {
			case <-stop:
				return
			default:
				visit(t, r, found[0].Horse.ID)
			}
		}
	}()
	at := day()
	out := t.TempDir()
	for range 5 {
		at = at.Add(time.Second)
		made, err := backup.From{Record: r, Folder: dir, At: at}.Into(context.Background(), out, recipient(t))
		require.NoError(t, err)
		to := filepath.Join(t.TempDir(), "place")
		_, err = backup.Restore(context.Background(), made.File, to, whole, identity(t, phrase))
		require.NoError(t, err)
	}
	close(stop)
	writers.Wait()
	left, err := filepath.Glob(filepath.Join(dir, "*.part"))
	require.NoError(t, err)
	assert.Empty(t, left)
}

func TestAStickThatIsNotThereIsASentence(t *testing.T) {
	r, dir := yard(t)
	from := backup.From{Record: r, Folder: dir, At: day()}
	stick := filepath.Join(t.TempDir(), "stick")
	_, err := from.Into(context.Background(), stick, recipient(t))
	require.ErrorContains(t, err, "is the stick in the machine?")
	require.NoError(t, os.Mkdir(stick, 0o700))
	made, err := from.Into(context.Background(), stick, recipient(t))
	require.NoError(t, err)
	assert.Equal(t, backup.FileName(mustMachine(t, r), day()), filepath.Base(made.File))
	// Half a file of an earlier try is removed.
	from.At = day().Add(time.Minute)
	next := filepath.Join(stick, backup.FileName(mustMachine(t, r), from.At))
	machine := mustMachine(t, r)
	half := filepath.Join(stick, "loosebox-backup"+machine[:8]+"-1234.part")
	require.NoError(t, os.WriteFile(half, []byte("half"), 0o600))
	_, err = from.Into(context.Background(), stick, recipient(t))
	require.NoError(t, err)
	list, err := os.ReadDir(stick)
	require.NoError(t, err)
	assert.Len(t, list, 1, "of one day the newest is kept")
	assert.Equal(t, filepath.Base(next), list[0].Name())
}

func mustMachine(t *testing.T, r *storage.Record) string {
	t.Helper()
	machine, _, err := r.Reached()
	require.NoError(t, err)
	return machine
}

func TestSevenDaysAndFourWeeksAreKept(t *testing.T) {
	const machine = "0123456789abcdef"
	var files []string
	for n := range 60 { // twice a day for sixty days back from a Sunday
		at := day().AddDate(0, 0, -n)
		files = append(files, backup.FileName(machine, at), backup.FileName(machine, at.Add(5*time.Hour)))
	}
	gone := map[string]bool{}
	for _, name := range backup.Superfluous(files) {
		gone[name] = true
	}
	var kept []string
	for _, name := range files {
		if !gone[name] {
			kept = append(kept, name)
		}
	}
	assert.Equal(t, []string{
		"loosebox-01234567-20260301-140000.tar.age", "loosebox-01234567-20260228-140000.tar.age", "loosebox-01234567-20260227-140000.tar.age",
		"loosebox-01234567-20260226-140000.tar.age", "loosebox-01234567-20260225-140000.tar.age", "loosebox-01234567-20260224-140000.tar.age",
		"loosebox-01234567-20260223-140000.tar.age", // Monday of the newest week
		"loosebox-01234567-20260222-140000.tar.age", "loosebox-01234567-20260215-140000.tar.age", "loosebox-01234567-20260208-140000.tar.age",
	}, kept)
	assert.Empty(t, backup.Superfluous([]string{"letter.txt", "loosebox-01234567-20260301-140000.tar.age.part"}))
}

func TestAKeyOfItsOwnOpensWhatItsRecipientClosed(t *testing.T) {
	r, dir := yard(t)
	key := filepath.Join(t.TempDir(), "key.age")
	public, err := backup.NewKey(key, recipient(t))
	require.NoError(t, err)
	_, err = backup.NewKey(key, recipient(t))
	require.ErrorContains(t, err, "is there already and was not touched")
	to, err := backup.ToKeys("  " + public + " ")
	require.NoError(t, err)
	made, err := backup.From{Record: r, Folder: dir, At: day()}.Into(context.Background(), t.TempDir(), to...)
	require.NoError(t, err)
	ids, err := backup.ReadKey(key, func() (string, error) { return phrase, nil })
	require.NoError(t, err)
	_, err = backup.Restore(context.Background(), made.File, filepath.Join(t.TempDir(), "p"), whole, ids...)
	require.NoError(t, err)
	_, err = backup.ReadKey(key, func() (string, error) { return "another one", nil })
	require.ErrorContains(t, err, "does not open: another passphrase")
	require.NotErrorIs(t, err, backup.ErrNotWhole, "nothing is wrong with the backup")
	_, err = backup.Restore(context.Background(), made.File, filepath.Join(t.TempDir(), "p"), whole, identity(t, phrase))
	require.ErrorIs(t, err, backup.ErrNotWhole)
	for _, text := range []string{"", "age1", "hello", public + "x"} {
		_, err := backup.ToKeys(text)
		require.ErrorContains(t, err, "begins with age1", text)
	}
	_, err = backup.ToPassphrase("short", 10)
	require.ErrorContains(t, err, "at least 8 characters")
}

// FuzzUnpack unpacks what somebody may have put into a well encrypted file: an
// error, or nothing but the files that a backup has, and nothing outside.
func FuzzUnpack(f *testing.F) {
	seed := func(name string, data string) []byte {
		var b bytes.Buffer
		w := tar.NewWriter(&b)
		require.NoError(f, w.WriteHeader(&tar.Header{Name: "backup.json", Size: 30, Mode: 0o600}))
		_, err := w.Write([]byte(`{"schema":"loosebox/backup/1"}`))
		require.NoError(f, err)
		require.NoError(f, w.WriteHeader(&tar.Header{Name: name, Size: int64(len(data)), Mode: 0o600}))
		_, err = w.Write([]byte(data))
		require.NoError(f, errors.Join(err, w.Close()))
		return b.Bytes()
	}
	f.Add(seed("record.db", "x"))
	f.Add(seed("../record.db", "x"))
	f.Add(seed("routines/a.yaml", ""))
	f.Add([]byte("no tar"))
	id, err := age.GenerateX25519Identity()
	require.NoError(f, err)
	f.Fuzz(func(t *testing.T, archive []byte) {
		var b bytes.Buffer
		enc, err := age.Encrypt(&b, id.Recipient())
		require.NoError(t, err)
		_, err = enc.Write(archive)
		require.NoError(t, errors.Join(err, enc.Close()))
		outer := t.TempDir()
		dir := filepath.Join(outer, "in")
		require.NoError(t, os.Mkdir(dir, 0o700))
		if _, err := backup.Unpack(&b, dir, id); err == nil {
			require.FileExists(t, filepath.Join(dir, storage.FileName))
		}
		list, err := os.ReadDir(outer)
		require.NoError(t, err)
		require.Len(t, list, 1)
	})
}

// The laptop that was backed up writes on, and so does the restored one, under one key:
// each has logs of its own since, so a third record takes in both and sets nothing aside.
func TestARestoredRecordDoesNotForkTheOneItCameFrom(t *testing.T) {
	file, r, _ := saved(t)
	to := filepath.Join(t.TempDir(), "place")
	_, err := backup.Restore(context.Background(), file, to, whole, identity(t, phrase))
	require.NoError(t, err)
	restored, err := storage.Open(to, storage.Options{})
	require.NoError(t, err)
	third, err := storage.Open(t.TempDir(), storage.Options{})
	require.NoError(t, err)
	for i, one := range []*storage.Record{r, restored} {
		_, err := one.SaveHorse(exam.Horse{Revision: 1, Name: fmt.Sprint("Late ", i), Kind: exam.AnimalHorse}, "Ann", day())
		require.NoError(t, err)
		done, err := third.Adopt(context.Background(), func(take func(signedlog.Segment) error) error {
			return one.Segments(context.Background(), take)
		})
		require.NoError(t, err)
		assert.Empty(t, done.Aside)
	}
	horses, err := third.Horses()
	require.NoError(t, err)
	var names []string
	for _, h := range horses {
		names = append(names, h.Horse.Name)
	}
	assert.Subset(t, names, []string{"Late 0", "Late 1"})
	report, err := third.Check(context.Background())
	require.NoError(t, err)
	assert.True(t, report.OK, "%v", report.Broken)
	require.NoError(t, errors.Join(third.Close(), restored.Close()))
}
