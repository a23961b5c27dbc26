//go:build unix

package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/termtest"
)

// Three laptops become one practice, on their screens alone: begun on one, the others let
// in with six words that are compared, one by files and one by the hub alone. Then they meet by a hub and a stick. They examine
// offline, two correct the same visit and one enters a horse again; they meet, settle and
// join. In the end all three export the same.
func TestThreeLaptopsAreOnePractice(t *testing.T) {
	t.Parallel()
	dir := nearby(t)
	stick := filepath.Join(dir, "stick")
	require.NoError(t, os.Mkdir(stick, 0o700))
	ann, bea, cal := laptopOf(t, dir, "Ann Bell", "clinic"), laptopOf(t, dir, "Bea Cole", "truck"), laptopOf(t, dir, "Cal Dunn", "barn")

	ann.enter("Clover")
	ann.press("b")
	ann.see("[Full exam]")
	ann.press("2")
	ann.see("[TPR recheck]")
	ann.hand.begin()
	ann.tpr("38.4")
	ann.finish()
	words := ann.start(dir)
	bea.comeIn(ann, dir, words)
	ann.leave()

	out, errOut, code := command(t, ann.data, "share", "hub", "-o", filepath.Join(dir, "practice.txt"))
	require.Zero(t, code, errOut)
	assert.Contains(t, out, "loosebox-hub")
	h := startHub(t, dir, "127.0.0.1:0")
	ann.sit()
	ann.open("name the practice's hub")
	ann.fill("address", h.at)
	ann.fill("certificate", filepath.Join(dir, "hub", "hub.pem"))
	ann.fill("key file", filepath.Join(dir, "practice.key"))
	ann.fill("passphrase", passphrase)
	ann.do("^The practice meets at " + regexp.QuoteMeta(h.at))
	ann.byHub()
	cal.comeInAtHub(ann, h.at, dir, words)
	for _, l := range []*laptop{ann, bea, cal} { // the stick tells them of the hub too
		l.byStick(stick)
	}
	for _, l := range []*laptop{bea, cal} {
		l.byHub()
		l.home()
		l.see("Clover")
		l.see("all sent")
	}

	// Offline: no hub, and the stick is in somebody's pocket.
	h.stop()
	pocket := filepath.Join(dir, "pocket")
	require.NoError(t, os.Rename(stick, pocket))
	ann.correct("38.6", "read wrong")
	bea.correct("38.9", "the other thermometer")
	cal.enter("Clover")
	for _, l := range []*laptop{ann, bea, cal} {
		l.home()
		l.seeLine(`shared .* lines? to send`)
	}

	// The evening: bea and cal meet ann by the hub, and once more by the stick.
	h = startHub(t, dir, h.at)
	require.NoError(t, os.Rename(pocket, stick))
	for _, l := range []*laptop{ann, bea, ann} {
		l.byHub()
	}
	ann.byStick(stick)
	cal.byStick(stick)
	for _, l := range []*laptop{ann, bea} {
		l.byStick(stick)
	}
	for _, l := range []*laptop{ann, bea, cal} {
		l.home()
		l.see("2 to settle")
	}
	bea.settle("38.7")
	bea.byHub()
	cal.join()
	cal.byHub()
	for _, l := range []*laptop{bea, ann, cal} {
		l.byHub()
	}
	for _, l := range []*laptop{ann, bea, cal} {
		l.home()
		l.unsee("to settle")
		l.see("1 horse")
		l.leave()
	}
	h.stop()
	all := ann.exported()
	assert.Contains(t, strings.Join(all, "\n"), "Clover")
	assert.Equal(t, all, bea.exported())
	assert.Equal(t, all, cal.exported())
	for _, l := range []*laptop{ann, bea, cal} {
		sound(t, l.data)
		all := visits(t, l.data, "Clover")
		require.Len(t, all, 1)
		assert.InDelta(t, 38.7, all[0].at(t, "temp.rectal", "").Value.Number.Value, 0)
	}
}

// nearby is a folder whose name is short, as it is typed at a hand's pace.
func nearby(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "p")
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, os.RemoveAll(dir)) })
	return dir
}

// laptop is somebody at a laptop.
type laptop struct {
	*hand
	person, name string
}

// laptopOf starts the program on an empty machine and says who sits there.
func laptopOf(t *testing.T, dir, person, name string) *laptop {
	l := &laptop{person: person, name: name, hand: &hand{t: t, data: filepath.Join(dir, name)}}
	l.sit()
	l.press("g")
	l.see("Settings")
	l.press("enter")
	l.see("your name: _")
	l.write(person)
	l.press("enter")
	l.see("your name: " + person)
	l.home()
	return l
}

func (l *laptop) sit() {
	l.t.Helper()
	l.hand = sit(l.t, l.data)
	l.see("settings")
}

// home goes back to the home screen.
func (l *laptop) home() {
	l.t.Helper()
	l.until("esc", func(x *termtest.Terminal) bool {
		return x.Shows("n new horse") || x.Shows("n  add your first horse")
	})
}

// enter writes a horse down, with its owner and birth date.
func (l *laptop) enter(name string) {
	l.t.Helper()
	l.press("n")
	l.see("New horse")
	l.write(name)
	l.moveTo("down", "> ", " born:")
	l.write(fmt.Sprintf("%d-05-04", time.Now().Year()-9))
	l.moveTo("down", "> ", " owner:")
	l.write("J. Marlowe")
	// Of a second horse of one name it is asked once.
	l.until("ctrl+s", func(x *termtest.Terminal) bool { return x.Shows("No visit yet: b begins the first exam.") })
}

// tpr answers the eight places of a recheck.
func (l *laptop) tpr(temperature string) {
	l.t.Helper()
	l.step("Approach and handler", "1", "enter")
	l.answered(1) // saved: until then no key counts
	l.step("Demeanor", "u")
	l.answered(2)
	l.step("Breathing rate", "t", "4", "enter", "1", "4", "enter")
	l.answered(3)
	l.step("Breathing effort, 0 to 4", "u")
	l.answered(4)
	l.step("Rectal temperature")
	l.write(temperature)
	l.press("enter")
	l.answered(5)
	l.step("Heart rate", "t", "4", "enter", "4", "0", "enter")
	l.answered(6)
	l.step("Heart rhythm", "u")
	l.answered(7)
	l.step("Anything else")
	l.write("ok")
	l.press("enter")
	l.see("Review · Clover")
}

// open opens the page of several laptops and one of its acts.
func (l *laptop) open(act string) {
	l.t.Helper()
	l.home()
	l.press("g")
	l.see("Settings")
	l.moveTo("down", "> ", "several laptops")
	l.press("enter")
	m := l.seeLine(`^[> ] (\d) ` + regexp.QuoteMeta(act) + `$`)
	l.press(m[1])
	l.see("Several laptops · " + act)
}

// fill writes into the line of a form with the cursor, whatever stands there, and goes on.
func (l *laptop) fill(label, text string) {
	l.t.Helper()
	m := l.seeLine(`^> +` + regexp.QuoteMeta(label) + `: ?(.*)$`)
	for range []rune(strings.TrimSuffix(m[1], "_")) {
		l.press("backspace")
	}
	l.write(text)
	l.next(label)
}

// next leaves the line of a form. A machine that is late hands on many letters at once, like a reader of chips: enter behind
// them is the end of a scan, and is pressed again.
func (l *laptop) next(label string) {
	l.t.Helper()
	under := regexp.MustCompile(`(?m)^> +` + regexp.QuoteMeta(label) + `:`)
	left := func(*termtest.Terminal) bool { return !under.MatchString(l.screen()) }
	for range 5 {
		l.press("enter")
		if l.term.Until("the next line", left, patience/4) == nil {
			return
		}
	}
	require.Fail(l.t, "enter leads nowhere", l.screen())
}

// do does what the form is for, and closes what came of it once a line says what is expected.
func (l *laptop) do(says string) {
	l.t.Helper()
	l.press("enter") // on the button
	l.seeLine(says)
	l.press("enter")
	l.seeLine(`^[> ] 1 `)
}

// words are the six words on the screen.
func (l *laptop) words() string {
	l.t.Helper()
	return l.seeLine(`^    ((?:[a-z]+ ){5}[a-z]+)$`)[1]
}

// start begins the practice, and returns its words.
func (l *laptop) start(dir string) string {
	l.t.Helper()
	l.open("begin a practice")
	l.fill("practice", "Hollow Farm Vets")
	l.fill("this laptop", l.name)
	l.fill("key file", filepath.Join(dir, "practice.key"))
	l.fill("passphrase", passphrase)
	l.fill("once more", passphrase)
	l.press("enter")
	l.see("begins with this laptop.")
	words := l.words()
	l.press("enter")
	return words
}

// comeIn asks, is let in on the first laptop, and joins; people compare what both show.
func (l *laptop) comeIn(first *laptop, dir, practice string) {
	l.t.Helper()
	request, answer := filepath.Join(dir, l.name+".request"), filepath.Join(dir, l.name+".answer")
	l.open("ask to come into a practice")
	l.fill("this laptop", l.name)
	l.fill("stick or hub", dir)
	l.press("enter")
	l.see("Read these words aloud there:")
	first.open("let a laptop in")
	first.fill("request", request)
	first.fill("key file", filepath.Join(dir, "practice.key"))
	first.fill("passphrase", passphrase)
	first.press("enter")
	first.see("Does the other laptop show the same words?")
	require.Equal(l.t, l.words(), first.words())
	first.press("y")
	first.see(l.name + " is in.")
	require.Equal(l.t, practice, first.words())
	first.press("enter")
	l.press("enter")
	l.open("come in with the answer")
	l.fill("answer", answer)
	l.joined(practice)
}

// joined reads the answer, and comes in once its words are the practice's.
func (l *laptop) joined(practice string) {
	l.t.Helper()
	l.press("enter")
	l.see("Does the first laptop show the same words?")
	require.Equal(l.t, practice, l.words())
	l.press("y")
	l.see("This laptop is in the practice.")
	l.press("enter")
}

// comeInAtHub is comeIn without a file: the laptop asks at the hub, and hears of it there.
func (l *laptop) comeInAtHub(first *laptop, at, dir, practice string) {
	l.t.Helper()
	l.open("ask to come into a practice")
	l.fill("this laptop", l.name)
	l.fill("stick or hub", at)
	l.press("enter")
	l.see("Read these words aloud there:")
	first.open("let in a laptop that asks at the hub")
	first.seeLine(`^> +laptop: ` + regexp.QuoteMeta(l.name)) // proposed as it asked
	first.press("enter")
	first.fill("key file", filepath.Join(dir, "practice.key"))
	first.fill("passphrase", passphrase)
	first.press("enter")
	first.see("Does the other laptop show the same words?")
	require.Equal(l.t, l.words(), first.words())
	first.press("y")
	first.see(l.name + " is in.")
	require.Equal(l.t, practice, first.words())
	first.press("enter")
	l.press("enter")
	l.open("come in with the answer")
	l.seeLine(`^> +answer: ` + regexp.QuoteMeta(at))
	l.press("enter")
	l.joined(practice)
}

func (l *laptop) byStick(stick string) {
	l.t.Helper()
	l.open("exchange with a folder now")
	l.fill("folder", stick)
	l.do(`^(Went out: .*|The folder has every line of this laptop\.)$`)
}

func (l *laptop) byHub() {
	l.t.Helper()
	l.open("exchange with the hub now")
	l.do(`^(Went out: .*|The hub has every line of this laptop\.)$`)
}

// review opens the review of Clover's visit.
func (l *laptop) review() {
	l.t.Helper()
	l.home()
	l.moveTo("down", "> ", "Clover")
	l.press("enter")
	l.see("visits, newest first")
	l.press("enter")
	l.see("Review · Clover")
}

// answer answers the temperature of a closed visit again.
func (l *laptop) answer(temperature, why string) {
	l.t.Helper()
	l.until("down", func(x *termtest.Terminal) bool {
		return slices.ContainsFunc(x.Screen(), func(line string) bool { return strings.HasPrefix(line, "> ") && strings.Contains(line, "temperature") })
	})
	l.press("enter")
	l.step("Rectal temperature")
	l.write(temperature)
	l.press("enter")
	l.see("Why is this corrected?")
	l.write(why)
	l.press("enter")
	l.see("Review · Clover")
	l.see(temperature + " C")
}

func (l *laptop) correct(temperature, why string) {
	l.t.Helper()
	l.review()
	l.answer(temperature, why)
}

// toSettle goes to one of the things that are to be settled.
func (l *laptop) toSettle(what string) {
	l.t.Helper()
	l.home()
	l.press("ctrl+t")
	l.see("To settle")
	l.seeLine(`^> `) // read: a key before counts for the list that comes
	l.moveTo("down", "> ", what)
	l.press("enter")
}

func (l *laptop) settle(temperature string) {
	l.t.Helper()
	l.toSettle("answers")
	l.see("Review · Clover")
	l.answer(temperature, "taken again")
}

func (l *laptop) join() {
	l.t.Helper()
	l.toSettle("entered twice")
	l.see("Entered twice · Clover")
	l.seeLine(`^> +they are: `)
	l.press("1")
	l.see("[one horse]")
	l.press("ctrl+s")
	l.see("one horse now.")
}

// exported is everything that a laptop exports, line by line, in every form.
func (l *laptop) exported() (lines []string) {
	l.t.Helper()
	for _, form := range []string{"json", "csv", "fhir"} {
		file := filepath.Join(l.t.TempDir(), form)
		_, errOut, code := command(l.t, l.data, "export", "--as", form, "-o", file)
		require.Zero(l.t, code, errOut)
		data, err := os.ReadFile(file)
		require.NoError(l.t, err)
		// Where a log is cut into segments is each laptop's own, and so is their order.
		list := slices.DeleteFunc(strings.Split(string(data), "\n"), func(line string) bool { return strings.HasPrefix(line, `{"log":`) })
		slices.Sort(list)
		lines = append(lines, list...)
	}
	return lines
}

// hubRun is a hub that runs.
type hubRun struct {
	t   *testing.T
	cmd *exec.Cmd
	at  string
}

// startHub builds the hub, a module of its own, once for a folder, and starts it.
func startHub(t *testing.T, dir, at string) *hubRun {
	t.Helper()
	file := filepath.Join(dir, "loosebox-hub")
	if _, err := os.Stat(file); err != nil {
		build := exec.Command("go", "build", "-o", file, ".")
		build.Dir = filepath.Join("..", "loosebox-hub")
		out, err := build.CombinedOutput()
		require.NoError(t, err, "%s", out)
	}
	h := &hubRun{t: t, cmd: exec.Command(file, "--data", filepath.Join(dir, "hub"), "--practice", filepath.Join(dir, "practice.txt"), "--listen", at)}
	said, err := h.cmd.StderrPipe()
	require.NoError(t, err)
	require.NoError(t, h.cmd.Start())
	t.Cleanup(func() {
		if h.cmd.ProcessState == nil {
			_ = h.cmd.Process.Kill()
			_ = h.cmd.Wait()
		}
	})
	listens := regexp.MustCompile(`listens at (\S+);`)
	lines := bufio.NewScanner(said)
	for lines.Scan() {
		if m := listens.FindStringSubmatch(lines.Text()); m != nil {
			h.at = m[1]
			go io.Copy(io.Discard, said) //nolint:errcheck // what it says later
			return h
		}
	}
	require.Fail(t, "the hub does not listen")
	return nil
}

func (h *hubRun) stop() {
	h.t.Helper()
	require.NoError(h.t, h.cmd.Process.Signal(syscall.SIGTERM))
	require.NoError(h.t, h.cmd.Wait())
}
