package main

import (
	"crypto/ed25519"
	"crypto/rand"
	"crypto/x509"
	"encoding/pem"
	"fmt"
	"io"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/roster"
	"loosebox/storage"
	"loosebox/storage/share"
	"loosebox/tui/nav"
)

// passphrase is that of the practice's key.
const passphrase = "four dry oat bags"

// sitter is somebody at the page of several laptops; the sticks that it sees are given.
type sitter struct {
	t      *testing.T
	record *storage.Record
	page   sharePage
}

func sitterWith(t *testing.T, sticks ...string) *sitter {
	t.Helper()
	r, err := storage.Open(t.TempDir(), storage.Options{})
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, r.Close()) })
	e := &env{ctx: t.Context(), now: time.Now, errOut: io.Discard, lookup: func(string) string { return "" }, dir: t.TempDir(), work: 10}
	s := e.sharing(r)
	s.ctx, s.send = t.Context(), func(tea.Msg) {}
	return &sitter{t, r, sharePage{s, func() []string { return sticks }, t.TempDir()}}
}

// act is one of the page's acts as it is proposed now.
func (s *sitter) act(name string) nav.ShareAct {
	s.t.Helper()
	state, err := s.page.State()
	require.NoError(s.t, err)
	at := slices.IndexFunc(state.Acts, func(a nav.ShareAct) bool { return a.Name == name })
	require.GreaterOrEqual(s.t, at, 0, name)
	return state.Acts[at]
}

// do does an act with what its form proposes, and these lines typed over it by their labels.
func (s *sitter) do(name string, typed map[string]string) (nav.ShareStep, error) {
	s.t.Helper()
	a := s.act(name)
	var values []string
	for _, f := range a.Fields {
		text, ok := typed[f.Label]
		if !ok {
			text = f.Text
		}
		values = append(values, text)
	}
	step, err := a.Do(values)
	if err == nil && step.Then != nil {
		step, err = step.Then()
	}
	return step, err
}

func (s *sitter) does(name string, typed map[string]string) nav.ShareStep {
	s.t.Helper()
	step, err := s.do(name, typed)
	require.NoError(s.t, err)
	return step
}

func (s *sitter) begin(practice string) {
	s.t.Helper()
	s.does("begin a practice", map[string]string{"practice": practice, "this laptop": "clinic", "key file": s.key(), "passphrase": passphrase, "once more": passphrase})
}

// key is where the practice's key is kept: not on the stick that carries the records.
func (s *sitter) key() string { return filepath.Join(s.page.home, keyName) }

// The practice's key is kept away from the records: no stick is proposed for it, and the form
// says why. Afterwards it is proposed from where it is.
func TestThePracticesKeyIsNotProposedOntoTheStick(t *testing.T) {
	t.Parallel()
	stick := t.TempDir()
	ann := sitterWith(t, stick)
	field := ann.act("begin a practice").Fields[2]
	assert.Equal(t, "key file", field.Label)
	assert.Empty(t, field.Text)
	assert.Contains(t, field.Hint, ann.key())
	assert.Contains(t, field.Hint, "Not on the stick that carries the records")
	ann.begin("Hollow Farm Vets")
	for _, act := range []string{"let a laptop in", "take a laptop out", "seal what is exchanged", "name the practice's hub"} {
		a := ann.act(act)
		i := slices.IndexFunc(a.Fields, func(f nav.ShareField) bool { return f.Label == "key file" })
		assert.Equal(t, ann.key(), a.Fields[i].Text, act)
	}
	require.NoError(t, os.Rename(ann.key(), filepath.Join(stick, keyName)))
	assert.Equal(t, filepath.Join(stick, keyName), ann.act("let a laptop in").Fields[1].Text)
	require.NoError(t, os.Remove(filepath.Join(stick, keyName)))
	assert.Empty(t, ann.act("let a laptop in").Fields[1].Text)
}

// Two laptops ask by one stick at the same time. Each file has its laptop's name, and each
// form proposes the file that is meant for it.
func TestSeveralLaptopsAskByOneStick(t *testing.T) {
	t.Parallel()
	stick := t.TempDir()
	ann, bea, cal := sitterWith(t, stick), sitterWith(t, stick), sitterWith(t, stick)
	ann.begin("Hollow Farm Vets")
	assert.Empty(t, bea.act("come in with the answer").Fields[0].Text)

	bea.does("ask to come into a practice", map[string]string{"this laptop": "Truck / 2"})
	request := filepath.Join(stick, "truck---2.request")
	assert.FileExists(t, request)
	assert.Equal(t, request, ann.act("let a laptop in").Fields[0].Text)
	cal.does("ask to come into a practice", map[string]string{"this laptop": "barn"})
	two := ann.act("let a laptop in").Fields[0]
	assert.Empty(t, two.Text, "a person says which of two")
	assert.Contains(t, two.Hint, "barn.request")
	assert.Contains(t, two.Hint, "truck---2.request")

	ann.does("let a laptop in", map[string]string{"request": request, "passphrase": passphrase})
	assert.Equal(t, filepath.Join(stick, "barn.request"), ann.act("let a laptop in").Fields[0].Text, "the other one is in")
	assert.Empty(t, cal.act("come in with the answer").Fields[0].Text, "it is not meant for this laptop")
	step := bea.does("come in with the answer", nil)
	assert.Contains(t, step.Say[0], "is in the practice")
	ann.does("let a laptop in", map[string]string{"passphrase": passphrase})
	cal.does("come in with the answer", nil)
	have, err := cal.record.Roster()
	require.NoError(t, err)
	assert.Len(t, have.Laptops(), 3)
}

// A request that is answered twice, and one of a laptop that is in: both work, and nothing
// that is there is written over.
func TestARequestIsAnsweredTwice(t *testing.T) {
	t.Parallel()
	stick := t.TempDir()
	ann, bea := sitterWith(t, stick), sitterWith(t, stick)
	ann.begin("Hollow Farm Vets")
	bea.does("ask to come into a practice", map[string]string{"this laptop": "truck"})
	request := filepath.Join(stick, "truck.request")
	ann.does("let a laptop in", map[string]string{"passphrase": passphrase})
	first, err := os.ReadFile(filepath.Join(stick, "truck.answer"))
	require.NoError(t, err)
	ann.does("let a laptop in", map[string]string{"request": request, "passphrase": passphrase})
	again, err := os.ReadFile(filepath.Join(stick, "truck.answer"))
	require.NoError(t, err)
	assert.Equal(t, first, again)
	bea.does("come in with the answer", map[string]string{"answer": filepath.Join(stick, "truck-2.answer")})
	have, err := bea.record.Roster()
	require.NoError(t, err)
	assert.Len(t, have.Laptops(), 2)

	bea2 := sitterWith(t, stick)
	bea2.does("ask to come into a practice", map[string]string{"this laptop": "truck"})
	assert.FileExists(t, filepath.Join(stick, "truck-2.request"), "another laptop of the same name")
}

// What goes wrong is said in a sentence, and changes nothing.
func TestComingInThatGoesWrong(t *testing.T) {
	t.Parallel()
	stick := t.TempDir()
	ann, bea, eve := sitterWith(t, stick), sitterWith(t, stick), sitterWith(t, t.TempDir())
	ann.begin("Hollow Farm Vets")
	eve.begin("Marsh Lane Vets")
	bea.does("ask to come into a practice", map[string]string{"this laptop": "truck"})
	for text, typed := range map[string]map[string]string{
		"the passphrase does not open " + ann.key() + ": nothing was changed. Type it again": {"passphrase": "four wet oat bags"},
		eve.key() + ` is the key of another practice, "Marsh Lane Vets"`:                     {"passphrase": passphrase, "key file": eve.key()},
		ann.key() + " is no request of a laptop":                                             {"passphrase": passphrase, "request": ann.key()},
		filepath.Join(stick, "truck.request") + " is no practice's key":                      {"passphrase": passphrase, "key file": filepath.Join(stick, "truck.request")},
		filepath.Join(stick, "away.request") + " is not there":                               {"passphrase": passphrase, "request": filepath.Join(stick, "away.request")},
	} {
		_, err := ann.do("let a laptop in", typed)
		require.ErrorContains(t, err, text)
		assert.NotContains(t, err.Error(), "no such file")
	}
	assert.NoFileExists(t, filepath.Join(stick, "truck.answer"))
	have, err := ann.record.Roster()
	require.NoError(t, err)
	assert.Len(t, have.Laptops(), 1)

	// A laptop with a practice of its own cannot ask, and reads no answer: it is in one.
	for _, name := range []string{"ask to come into a practice", "come in with the answer"} {
		state, err := eve.page.State()
		require.NoError(t, err)
		assert.False(t, slices.ContainsFunc(state.Acts, func(a nav.ShareAct) bool { return a.Name == name }), name)
	}
	ann.does("exchange with a folder now", nil)
	_, err = eve.do("exchange with a folder now", map[string]string{"folder": filepath.Join(stick, "loosebox")})
	require.ErrorContains(t, err, `the folder belongs to the practice "Hollow Farm Vets", this laptop to "Marsh Lane Vets": nothing was exchanged. Use another folder`)
	_, err = bea.do("exchange with a folder now", map[string]string{"folder": filepath.Join(stick, "loosebox")})
	require.ErrorContains(t, err, "this laptop is not in it: nothing was exchanged. Ask to come in")
}

// A practice's key is used on a laptop whose clock is a year back: what was said last counts
// all the same, and the screen says what is true.
func TestAClockThatIsAYearBack(t *testing.T) {
	t.Parallel()
	stick := t.TempDir()
	ann, bea := sitterWith(t, stick), sitterWith(t, stick)
	ann.begin("Hollow Farm Vets")
	bea.does("ask to come into a practice", map[string]string{"this laptop": "truck"})
	ann.does("let a laptop in", map[string]string{"passphrase": passphrase})
	bea.does("come in with the answer", nil)
	sealed := func(s *sitter, want bool) {
		have, err := s.record.Roster()
		require.NoError(t, err)
		assert.Equal(t, want, have.Sealed())
	}
	ann.does("seal what is exchanged", map[string]string{"passphrase": passphrase})
	sealed(ann, true)
	ann.page.env.now = func() time.Time { return time.Now().AddDate(-1, 0, 0) }
	ann.does("seal no longer", map[string]string{"passphrase": passphrase})
	sealed(ann, false)
	ann.does("exchange with a folder now", nil)
	bea.does("exchange with a folder now", nil)
	sealed(bea, false)
	ann.does("take a laptop out", map[string]string{"laptop": "truck", "passphrase": passphrase})
	ann.does("exchange with a folder now", nil)
	_, err := bea.do("exchange with a folder now", nil)
	require.ErrorContains(t, err, `this laptop was taken out of the practice "Hollow Farm Vets": nothing was exchanged. Its record stays as it is, and what is entered from now on stays here. Ask who keeps the practice's key`)
	state, err := bea.page.State()
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(state.Facts), "this one, out")
}

// A laptop does not take itself out: nobody could let it in again.
func TestALaptopDoesNotTakeItselfOut(t *testing.T) {
	t.Parallel()
	ann := sitterWith(t, t.TempDir())
	ann.begin("Hollow Farm Vets")
	_, err := ann.do("take a laptop out", map[string]string{"laptop": "clinic", "passphrase": passphrase})
	require.ErrorContains(t, err, "clinic is this laptop: nothing was changed. Take it out on another laptop of the practice")
	have, err := ann.record.Roster()
	require.NoError(t, err)
	assert.Equal(t, roster.In, have.Membership(ann.record.Key()))
}

// A laptop asks, begins a practice of its own all the same, and then gets the answer.
func TestAnAnswerForALaptopWithItsOwnPractice(t *testing.T) {
	t.Parallel()
	stick, other := t.TempDir(), t.TempDir()
	ann, bea := sitterWith(t, stick), sitterWith(t, stick)
	ann.begin("Hollow Farm Vets")
	bea.does("ask to come into a practice", map[string]string{"this laptop": "truck"})
	bea.does("begin a practice", map[string]string{"practice": "Marsh Lane Vets", "passphrase": passphrase, "once more": passphrase, "key file": filepath.Join(other, "practice.key")})
	ann.does("let a laptop in", map[string]string{"passphrase": passphrase})
	_, err := readAnswer(bea.record, filepath.Join(stick, "truck.answer"))
	require.ErrorContains(t, err, `this laptop is in the practice "Marsh Lane Vets" already, and the answer is of "Hollow Farm Vets": nothing was changed`)
	ann.does("exchange with a folder now", nil)
	_, err = bea.do("exchange with a folder now", map[string]string{"folder": filepath.Join(stick, "loosebox")})
	require.ErrorContains(t, err, "Use another folder")
	for _, s := range []*sitter{ann, bea} {
		report, err := s.record.Check(t.Context())
		require.NoError(t, err)
		assert.True(t, report.OK)
	}
}

// What came in is counted as far as there is any: settings are lines alone.
func TestWhatCameInIsCounted(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "2 lines", cameIn(share.Result{Came: 2}))
	assert.Equal(t, "1 horse, 3 visits, 1 rehearsal, 60 lines", cameIn(share.Result{In: storage.Adopted{Horses: 1, Visits: 3, Rehearsals: 1}, Came: 60}))
}

// On a network drive requests and answers lie in the folder itself, which is no stick: they are proposed too.
func TestARequestInTheFolderIsProposed(t *testing.T) {
	t.Parallel()
	drive := t.TempDir()
	ann, bea := sitterWith(t), sitterWith(t)
	ann.begin("Hollow Farm Vets")
	for _, s := range []*sitter{ann, bea} {
		s.does("exchange with a folder now", map[string]string{"folder": drive})
		if s == ann {
			bea.does("ask to come into a practice", map[string]string{"this laptop": "truck", "stick or hub": drive})
			ann.does("let a laptop in", map[string]string{"passphrase": passphrase})
			bea.does("come in with the answer", map[string]string{"answer": filepath.Join(drive, "truck.answer")})
		}
	}
	assert.Empty(t, ann.act("let a laptop in").Fields[0].Text, "it is in")
}

// A laptop that is out is told once, though neither folder nor hub takes anything from it.
func TestOneReasonIsSaidOnce(t *testing.T) {
	t.Parallel()
	stick := t.TempDir()
	ann, bea := sitterWith(t, stick), sitterWith(t, stick)
	ann.begin("Hollow Farm Vets")
	bea.does("ask to come into a practice", map[string]string{"this laptop": "truck"})
	ann.does("let a laptop in", map[string]string{"passphrase": passphrase})
	bea.does("come in with the answer", nil)
	writeHubCertificate(t, filepath.Join(stick, "hub.pem"))
	ann.does("name the practice's hub", map[string]string{"address": "127.0.0.1:1", "passphrase": passphrase})
	ann.does("exchange with a folder now", nil)
	bea.does("exchange with a folder now", nil)
	ann.does("take a laptop out", map[string]string{"laptop": "truck", "passphrase": passphrase})
	ann.does("exchange with a folder now", nil)
	for _, want := range []string{`this laptop was taken out of the practice "Hollow Farm Vets": nothing was exchanged. Its record stays as it is, and what is entered from now on stays here. Ask who keeps the practice's key`, ""} {
		msg, ok := bea.page.inBackground(t.Context())
		assert.True(t, ok)
		assert.Equal(t, want, msg.Problem)
		assert.True(t, msg.Out, "it stands on the home screen as long as it is so")
	}
	assert.ErrorContains(t, alone(bea.record), `this laptop was taken out of the practice "Hollow Farm Vets" and cannot come back`)
}

// What was sent to the folder was not sent to the hub: what waits is said of both, and stands so
// on the page and in the status, whichever of them was reached last.
func TestWhatWaitsIsSaidOfFolderAndHub(t *testing.T) {
	t.Parallel()
	stick := t.TempDir()
	ann := sitterWith(t, stick)
	ann.begin("Hollow Farm Vets")
	_, err := ann.record.SaveHorse(exam.Horse{Name: "Bracken", Kind: exam.AnimalHorse, Revision: 1}, "Ann", time.Now())
	require.NoError(t, err)
	ann.does("exchange with a folder now", nil)
	msg, ok := ann.page.inBackground(t.Context())
	require.True(t, ok)
	assert.Equal(t, []nav.Waits{{Place: "folder", Lines: 0}}, msg.Waiting)
	exchanged := func() (out []string) {
		state, err := ann.page.State()
		require.NoError(t, err)
		for _, f := range state.Facts {
			if strings.Contains(f.Text, "all sent") || strings.Contains(f.Text, "to send") {
				out = append(out, f.Label+": "+f.Text)
			}
		}
		return out
	}
	require.Len(t, exchanged(), 1)
	assert.Contains(t, exchanged()[0], "; all sent")

	writeHubCertificate(t, filepath.Join(stick, "hub.pem"))
	ann.does("name the practice's hub", map[string]string{"address": "127.0.0.1:1", "passphrase": passphrase})
	msg, ok = ann.page.inBackground(t.Context())
	require.True(t, ok)
	require.Equal(t, []string{"folder", "hub"}, []string{msg.Waiting[0].Place, msg.Waiting[1].Place})
	assert.Zero(t, msg.Waiting[0].Lines)
	assert.Positive(t, msg.Waiting[1].Lines, "the hub was never reached")
	require.Len(t, exchanged(), 2)
	assert.Regexp(t, `^folder: .*loosebox; .*; all sent$`, exchanged()[0])
	assert.Regexp(t, `^hub: 127\.0\.0\.1:1; not reached yet; \d+ lines? to send$`, exchanged()[1])

	require.NoError(t, ann.record.NoteExchange(storage.Exchanged{At: time.Now(), Place: "hub 127.0.0.1:1"})) // as if it had taken all
	_, err = ann.record.SaveHorse(exam.Horse{Name: "Pip", Kind: exam.AnimalHorse, Revision: 1}, "Ann", time.Now())
	require.NoError(t, err)
	msg, _ = ann.page.inBackground(t.Context())
	assert.Equal(t, []nav.Waits{{Place: "folder", Lines: 0}, {Place: "hub", Lines: 1}}, msg.Waiting, "the folder took it")
}

// writeHubCertificate writes a certificate such as a hub makes.
func writeHubCertificate(t *testing.T, file string) {
	t.Helper()
	public, private, err := ed25519.GenerateKey(rand.Reader)
	require.NoError(t, err)
	c := &x509.Certificate{SerialNumber: big.NewInt(1), NotBefore: time.Now(), NotAfter: time.Now().AddDate(10, 0, 0)}
	der, err := x509.CreateCertificate(rand.Reader, c, c, public, private)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600))
}

// The page is shown while an exchange goes on: nothing of it waits for the exchange's end.
func TestThePageDoesNotWaitForAnExchange(t *testing.T) {
	t.Parallel()
	ann := sitterWith(t, t.TempDir())
	ann.page.mu.Lock() // as an exchange does
	defer ann.page.mu.Unlock()
	state, err := ann.page.State()
	require.NoError(t, err)
	assert.NotEmpty(t, state.Acts)
}
