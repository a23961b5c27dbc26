package share_test

import (
	"bytes"
	"context"
	"crypto/ed25519"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/roster"
	"loosebox/exam/signedlog"
	"loosebox/storage/backup"
	"loosebox/storage/share"
)

// clinic is a practice whose key the test holds.
type clinic struct {
	key  ed25519.PrivateKey
	said int
}

func newClinic(seed byte) *clinic {
	return &clinic{key: ed25519.NewKeyFromSeed(bytes.Repeat([]byte{seed}, ed25519.SeedSize))}
}

// statement begins the next statement.
func (c *clinic) statement() roster.Statement {
	c.said++
	public, _ := c.key.Public().(ed25519.PublicKey)
	return roster.Statement{Practice: roster.Practice{Name: "Hollow Farm Vets", Key: public}, At: day().Add(time.Duration(c.said) * time.Minute)}
}

func (c *clinic) says(t require.TestingT, of *laptop, out bool, until map[signedlog.ID]uint64) roster.Statement {
	s := c.statement()
	s.Key, s.Name, s.Out, s.Until = of.Key(), of.name, out, until
	s, err := roster.Say(c.key, s)
	require.NoError(t, err)
	return s
}

func (l *laptop) take(t require.TestingT, list ...roster.Statement) {
	_, err := l.TakeStatements(context.Background(), list)
	require.NoError(t, err)
}

// visits is how many visits a record lists.
func (l *laptop) visits(t require.TestingT) int {
	list, err := l.Recent(0)
	require.NoError(t, err)
	return len(list)
}

// Lines of a laptop that nobody let in stay in the folder, counted, and come in with the
// statement that lets it in; that reaches every laptop by the folder.
func TestALaptopThatIsLetInBringsItsLines(t *testing.T) {
	stick, c := t.TempDir(), newClinic(7)
	ann, bea, cal := newLaptop(t, "ann"), newLaptop(t, "bea"), newLaptop(t, "cal")
	cal.examine(t, 2)
	cal.exchange(t, stick) // before there was a practice
	in := []roster.Statement{c.says(t, ann, false, nil), c.says(t, bea, false, nil)}
	ann.take(t, in...)
	bea.take(t, in...)
	bea.examine(t, 2)
	known := share.New(stick)
	done, err := known.Exchange(context.Background(), ann)
	require.NoError(t, err)
	assert.Equal(t, map[string]int{signedlog.Fingerprint(cal.Key()): 5}, done.Unknown)
	assert.Zero(t, ann.visits(t))
	bea.exchange(t, stick)
	_, err = share.New(stick).Exchange(context.Background(), cal)
	require.ErrorIs(t, err, share.ErrNotIn, "the folder is the practice's now")

	late := c.says(t, cal, false, nil)
	bea.take(t, late)
	bea.exchange(t, stick)
	done, err = known.Exchange(context.Background(), ann)
	require.NoError(t, err)
	assert.Empty(t, done.Unknown)
	assert.Equal(t, 2, ann.visits(t), "the statement came by the folder, in the same run")
	cal.take(t, append(in, late)...)
	cal.exchange(t, stick)
	same(t, ann, bea, cal)
}

// The lines with which a practice begins count on every laptop, and no more of them.
func TestEarlierLinesCount(t *testing.T) {
	stick, c := t.TempDir(), newClinic(7)
	old, ann, bea := newLaptop(t, "old"), newLaptop(t, "ann"), newLaptop(t, "bea")
	old.examine(t, 2)
	old.exchange(t, stick)
	ann.exchange(t, stick)
	others, err := ann.Others()
	require.NoError(t, err)
	require.Len(t, others, 1)
	in := []roster.Statement{c.says(t, ann, false, nil), c.says(t, bea, false, nil), c.says(t, old, false, others[0].Until)}
	ann.take(t, in...)
	bea.take(t, in...)
	ann.examine(t, 2)
	other := t.TempDir()
	ann.exchange(t, other)
	bea.exchange(t, other)
	same(t, ann, bea)
	assert.Equal(t, 2, bea.visits(t))
	old.examine(t, 2)
	_, err = bea.Adopt(context.Background(), func(take func(signedlog.Segment) error) error { return old.Segments(context.Background(), take) })
	require.NoError(t, err)
	assert.Equal(t, 2, bea.visits(t), "it wrote on, and nobody let it in")
}

// Nobody comes into a practice by a folder: not by another's statements, nor a forged one.
func TestAFolderOfAnotherPractice(t *testing.T) {
	stick := t.TempDir()
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	one, two := newClinic(7), newClinic(8)
	ann.take(t, one.says(t, ann, false, nil))
	bea.take(t, two.says(t, bea, false, nil))
	ann.examine(t, 2)
	bea.examine(t, 2)
	ann.exchange(t, stick)
	before := files(t, stick)
	_, err := share.New(stick).Exchange(context.Background(), bea)
	require.ErrorIs(t, err, share.ErrNotIn)
	assert.Equal(t, before, files(t, stick))
	assert.Equal(t, 1, bea.visits(t))

	forged := two.says(t, bea, false, nil).Bytes()
	require.NoError(t, os.WriteFile(filepath.Join(stick, "x.roster"), forged, 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(stick, "y.roster"), []byte("rubbish"), 0o600))
	ann.exchange(t, stick)
	r, err := ann.Roster()
	require.NoError(t, err)
	assert.Len(t, r.Said, 1, "a foreign statement changes nothing")
	_, err = ann.TakeStatements(context.Background(), []roster.Statement{two.says(t, bea, false, nil)})
	require.Error(t, err)
}

// What a laptop writes after its end is kept and does not count, whatever refers to it.
func TestALaptopThatIsOut(t *testing.T) {
	stick, c := t.TempDir(), newClinic(7)
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	in := []roster.Statement{c.says(t, ann, false, nil), c.says(t, bea, false, nil)}
	ann.take(t, in...)
	bea.take(t, in...)
	bea.examine(t, 3)
	bea.exchange(t, stick)
	ann.exchange(t, stick)
	until, err := ann.Reach(bea.Key())
	require.NoError(t, err)

	late := bea.examine(t, 3)
	bea.exchange(t, stick)
	ann.exchange(t, stick)
	require.Equal(t, 2, ann.visits(t), "nobody knew yet")
	v, err := ann.Visit(late)
	require.NoError(t, err)
	_, err = ann.Append(exam.Entry{
		Visit: late, At: day(), By: "ann", Kind: exam.EntryFinding, Step: "step.number0", Corrects: 2,
		Value: &exam.Value{Kind: exam.KindPick, Words: []string{"word 7"}}, Amend: &exam.Amendment{Why: "misread"},
	})
	require.NoError(t, err)

	ann.take(t, c.says(t, bea, true, until))
	assert.Equal(t, 1, ann.visits(t))
	_, err = ann.Visit(v.ID)
	require.Error(t, err)
	apart, err := ann.Apart()
	require.NoError(t, err)
	assert.Len(t, apart, 1)
	report, err := ann.Check(context.Background())
	require.NoError(t, err)
	assert.True(t, report.OK, "%v", report.Broken)
	assert.Equal(t, 6, report.Apart)
	_, _, err = ann.Rebuild(context.Background())
	require.NoError(t, err)
	assert.Equal(t, 1, ann.visits(t))

	_, err = share.New(stick).Exchange(context.Background(), bea)
	require.NoError(t, err, "the stick does not say it yet")
	ann.exchange(t, stick)
	_, err = share.New(stick).Exchange(context.Background(), bea)
	require.ErrorIs(t, err, share.ErrNotIn)
	assert.Equal(t, 2, bea.visits(t), "its own record stays as it is")
	report, err = bea.Check(context.Background())
	require.NoError(t, err)
	assert.True(t, report.OK, "%v", report.Broken)

	cal := newLaptop(t, "cal")
	cal.take(t, append(in, c.says(t, cal, false, nil), c.says(t, bea, true, until))...)
	cal.exchange(t, stick)
	assert.Equal(t, 1, cal.visits(t), "a new laptop comes to the same")
	assert.Equal(t, ann.holds(t), cal.holds(t), "and keeps the same lines")
}

// Segments and statements in whatever order: the same visits and the same lines kept.
func TestStatementsAndLinesInAnyOrder(t *testing.T) {
	c := newClinic(7)
	ann, bea, cal := newLaptop(t, "ann"), newLaptop(t, "bea"), newLaptop(t, "cal")
	var half []map[signedlog.ID]uint64
	for _, l := range []*laptop{bea, cal} {
		for i := range 4 {
			l.examine(t, 2)
			if i == 1 {
				until, err := l.Reach(l.Key())
				require.NoError(t, err)
				half = append(half, until)
			}
		}
	}
	said := []roster.Statement{
		c.says(t, bea, false, nil), c.says(t, cal, false, nil), c.says(t, bea, true, half[0]), c.says(t, cal, true, half[1]),
		c.says(t, cal, true, nil), c.says(t, bea, false, nil),
	}
	_ = ann
	want := ""
	rapid.Check(t, func(t *rapid.T) {
		l := rapidLaptop(t, "new")
		defer l.end()
		var acts []func()
		for _, s := range said {
			acts = append(acts, func() { l.take(t, s) })
		}
		for _, from := range []*laptop{bea, cal} {
			acts = append(acts, func() {
				_, err := l.Adopt(context.Background(), func(take func(signedlog.Segment) error) error { return from.Segments(context.Background(), take) })
				require.NoError(t, err)
			})
		}
		for _, i := range rapid.Permutation([]int{0, 1, 2, 3, 4, 5, 6, 7}).Draw(t, "order") {
			acts[i]()
		}
		l.sound(t)
		list, err := l.Recent(0)
		require.NoError(t, err)
		got := l.holds(t)
		for _, v := range list {
			got += string(v.ID) + "\n"
		}
		require.Len(t, list, 2, "two of bea count, none of cal")
		if want == "" {
			want = got
		}
		require.Equal(t, want, got)
	})
}

// The practice's key opens with its passphrase alone.
func TestThePracticeKeyIsEncrypted(t *testing.T) {
	file := filepath.Join(t.TempDir(), "practice.key")
	to, err := backup.ToPassphrase("four dry oat bags", 10)
	require.NoError(t, err)
	key, err := share.NewPracticeKey(file, "Hollow Farm Vets", to)
	require.NoError(t, err)
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.NotContains(t, string(data), "Hollow")
	back, err := share.ReadPracticeKey(file, "four dry oat bags")
	require.NoError(t, err)
	assert.Equal(t, key, back)
	_, err = share.ReadPracticeKey(file, "four wet oat bags")
	require.Error(t, err)
	_, err = share.NewPracticeKey(file, "Hollow Farm Vets", to)
	require.Error(t, err, "a key is never written over")
}
