package rehearse

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/stat"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// The head byte by byte: Microsoft and IBM, Multimedia Programming Interface and Data Specifications 1.0 (1991), RIFF
// form WAVE; all numbers little-endian.
func TestWAVHeadAgainstTheSpecification(t *testing.T) {
	var b bytes.Buffer
	samples := []int16{0, 1, -1, 32767, -32768, 1234, 7}
	require.NoError(t, WriteWAV(&b, samples))
	d := b.Bytes()
	require.Len(t, d, 44+14)
	u16 := func(at int) int { return int(binary.LittleEndian.Uint16(d[at:])) }
	u32 := func(at int) int { return int(binary.LittleEndian.Uint32(d[at:])) }
	assert.Equal(t, "RIFF", string(d[0:4]))
	assert.Equal(t, len(d)-8, u32(4), "the size counts what follows it")
	assert.Equal(t, "WAVE", string(d[8:12]))
	assert.Equal(t, "fmt ", string(d[12:16]))
	assert.Equal(t, 16, u32(16), "a PCM format chunk")
	assert.Equal(t, 1, u16(20), "WAVE_FORMAT_PCM")
	assert.Equal(t, 1, u16(22), "one channel")
	assert.Equal(t, SampleRate, u32(24))
	assert.Equal(t, u32(24)*u16(32), u32(28), "bytes a second are samples a second times block align")
	assert.Equal(t, u16(22)*u16(34)/8, u16(32), "block align is channels times bits over eight")
	assert.Equal(t, 16, u16(34))
	assert.Equal(t, "data", string(d[36:40]))
	assert.Equal(t, 14, u32(40))
	assert.Zero(t, u32(40)%2, "chunks are padded to even lengths; two bytes a sample never need it")
	back := make([]int16, len(samples))
	require.NoError(t, binary.Read(bytes.NewReader(d[44:]), binary.LittleEndian, back))
	assert.Equal(t, samples, back)

	require.NoError(t, WriteWAV(&b, nil))
	require.ErrorContains(t, WriteWAV(fullDisk{}, make([]int16, 9000)), "write sound: no space")
	require.ErrorContains(t, WriteWAV(fullDisk{}, nil), "write sound: no space")
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space") }

// loudness is the root mean square of every 5 ms.
func loudness(samples []int16) []float64 {
	const n = SampleRate / 200
	out := make([]float64, len(samples)/n)
	for i := range out {
		sum := 0.0
		for _, s := range samples[i*n : (i+1)*n] {
			sum += float64(s) * float64(s)
		}
		out[i] = math.Sqrt(sum / n)
	}
	return out
}

// onsets finds the beginnings of sounds: above a limit after at least so much quiet.
func onsets(loud []float64, limit, quietS float64) []float64 {
	var out []float64
	quiet := math.Inf(1)
	for i, v := range loud {
		if v < limit {
			quiet++
			continue
		}
		if quiet/200 >= quietS {
			out = append(out, float64(i)/200)
		}
		quiet = 0
	}
	return out
}

// A listener that knows nothing but the samples finds every beat: two sounds a beat, the second where systole puts it,
// the rate and the pauses of Beats.
func TestHeartSoundsComeWithTheBeats(t *testing.T) {
	for _, name := range []string{"clover", "juniper", "plover"} {
		h := horse(t, name, 6)
		found := onsets(loudness(h.Sound(exam.Key{Step: "heart.rate"}, 10, 70)), 4000, 0.04)
		var want []float64
		beats := h.Beats(10, 75)
		for i := 0; i+1 < len(beats); i++ {
			for _, at := range []float64{beats[i], beats[i] + secondAt(beats[i+1]-beats[i])} {
				if at < 69.95 {
					want = append(want, at-10)
				}
			}
		}
		for len(found) > 0 && found[0] < want[0]-0.05 {
			found = found[1:] // the rest of the beat before the stretch
		}
		require.Len(t, found, len(want), name)
		for i := range want {
			assert.InDelta(t, want[i], found[i], 0.015, "%s, sound %d", name, i)
		}
		rate := 60 * float64(len(found)/2-1) / (found[2*(len(found)/2-1)] - found[0])
		true60 := 60 * float64(len(found)/2-1) / (want[2*(len(found)/2-1)] - want[0])
		assert.InDelta(t, true60, rate, 0.05, name)
	}
}

// In each pause of a dropped beat, and nowhere else, a soft extra sound is heard where the beat was due (PROV1); a horse
// that has none is silent there, and a murmur fills no pause.
func TestASoftSoundInThePause(t *testing.T) {
	seen := map[[2]bool]int{}
	for seed := range uint64(24) {
		h := horse(t, "juniper", seed)
		murmur, _ := h.truth[exam.Key{Step: "heart.murmur", Site: exam.Left}].In(notation.Points)
		kind := [2]bool{len(h.Thuds(10, 70)) > 0, murmur > 0}
		if seen[kind]++; seen[kind] == 1 {
			checkPauses(t, h, kind[0], kind[1])
		}
	}
	assert.Len(t, seen, 4, "with and without, each with a murmur and without: %v", seen)
}

func checkPauses(t *testing.T, h *Horse, has, murmur bool) {
	t.Helper()
	soft := onsets(loudness(h.Sound(exam.Key{Step: "heart.rate"}, 10, 70)), 1000, 0.04)
	loud := onsets(loudness(h.Sound(exam.Key{Step: "heart.rate"}, 10, 70)), 4000, 0.04)
	beats, pauses := h.Beats(2, 78), 0
	for i := 1; i+1 < len(beats); i++ {
		gap := beats[i+1] - beats[i]
		at := beats[i] + gap/2 - 10
		if gap < 1.6*(beats[i]-beats[i-1]) || at < 0 || at > 59.9 {
			continue
		}
		pauses++
		near := func(all []float64) bool {
			return slices.ContainsFunc(all, func(s float64) bool { return math.Abs(s-at) < 0.05 })
		}
		assert.Equal(t, has, near(soft), "pause at %v", at)
		assert.False(t, near(loud), "pause at %v", at)
	}
	assert.Positive(t, pauses)
	if has && !murmur { // which is soft too
		assert.InDelta(t, pauses, len(soft)-len(loud), 1)
	}
}

// power is the mean power of a stretch of samples between two pitches, in blocks of at most a quarter of a second.
func power(samples []int16, low, high float64) float64 {
	n := min(len(samples), 2000)
	fft, x, sum, blocks := fourier.NewFFT(n), make([]float64, n), 0.0, 0
	for ; len(samples) >= n; samples = samples[n:] {
		for i := range x {
			x[i] = float64(samples[i])
		}
		for i, c := range fft.Coefficients(nil, x) {
			if hz := float64(i) * SampleRate / float64(n); hz >= low && hz < high {
				sum += cmplx.Abs(c) * cmplx.Abs(c)
			}
		}
		blocks++
	}
	return sum / float64(n) / float64(n) / float64(blocks)
}

// cut is the piece from one second to another of a sound that began at zero.
func cut(samples []int16, from, to float64) []int16 {
	return samples[sampleNo(from):sampleNo(to)]
}

// A hiss is as loud as it is said to be, and lies in its band.
func TestHiss(t *testing.T) {
	flat := func(float64) float64 { return 1 }
	for _, c := range []struct{ hz, width float64 }{{90, 60}, {220, 180}, {350, 300}, {450, 350}} {
		x := hiss(rand.New(rand.NewPCG(1, 1)), 60, 0.3, c.hz, c.width, flat)
		assert.InDelta(t, 0.3, stat.StdDev(x, nil), 0.03, "%v", c)
		samples := make([]int16, len(x))
		for i, v := range x {
			samples[i] = int16(10000 * v)
		}
		assert.Greater(t, power(samples, c.hz-c.width/2, c.hz+c.width/2), 0.7*power(samples, 0, 4000), "%v", c)
	}
}

// A murmur fills the part of systole that it is said to be in, and no other; it is louder by grade.
func TestMurmurIsWhereItIsSaidToBe(t *testing.T) {
	place := exam.Key{Step: "heart.murmur", Site: exam.Left}
	ratio := func(in MurmurTime, grade float64) (early, late, rest float64) {
		h := horse(t, "clover", 4)
		h.Case.MurmurIn = in
		h.truth[place] = exam.Value{Kind: exam.KindScale, Number: &notation.Quantity{Value: grade, Unit: notation.Points}}
		sound, beats := h.Sound(place, 0, 30), h.Beats(0, 27)
		for _, b := range beats {
			early += power(cut(sound, b+0.15, b+0.23), 150, 400) / float64(len(beats))
			late += power(cut(sound, b+0.30, b+0.40), 150, 400) / float64(len(beats))
			rest += power(cut(sound, b+0.70, b+0.95), 150, 400) / float64(len(beats))
		}
		return early, late, rest
	}
	early, late, rest := ratio(MurmurLate, 3)
	assert.Greater(t, late, 20*early)
	assert.Greater(t, late, 100*rest)
	early, late, rest = ratio(MurmurEarly, 3)
	assert.Greater(t, early, 20*late)
	assert.Greater(t, early, 100*rest)
	early, late, rest = ratio(MurmurWhole, 3)
	assert.Greater(t, early, 100*rest)
	assert.Greater(t, late, 100*rest)
	before := 0.0
	for grade := 1.0; grade <= 6; grade++ {
		_, late, _ := ratio(MurmurLate, grade)
		assert.Greater(t, late, 1.2*before, "grade %v", grade)
		before = late
	}
	h := horse(t, "merrow", 1)
	assert.Equal(t, MurmurLate, h.Case.MurmurIn)
	left, right := h.Sound(place, 0, 20), h.Sound(exam.Key{Step: "heart.murmur", Site: exam.Right}, 0, 20)
	assert.Greater(t, power(left, 180, 260), 20*power(right, 180, 260), "left only")
}

// Breaths swell and fade; the loudest piece of each lies where the flank moves out.
func TestBreathSoundsComeWithTheBreaths(t *testing.T) {
	h := horse(t, "clover", 4)
	loud := loudness(h.Sound(exam.Key{Step: "breath.rate"}, 0, 90))
	breaths := h.Breaths(0, 85)
	for i := 0; i+1 < len(breaths); i++ {
		b, gap := breaths[i], breaths[i+1]-breaths[i]
		in := stat.Mean(loud[int(200*(b+0.1*gap)):int(200*(b+0.3*gap))], nil)
		out := stat.Mean(loud[int(200*(b+0.5*gap)):int(200*(b+0.75*gap))], nil)
		rest := stat.Mean(loud[int(200*(b+0.88*gap)):int(200*(b+0.98*gap))], nil)
		assert.Greater(t, in, 1.5*out, "breath %d", i)
		assert.Greater(t, out, 10*rest, "breath %d", i)
	}
}

// Every lung word that can be heard changes the sound.
func TestLungWordsSoundDifferent(t *testing.T) {
	place := exam.Key{Step: "lung.sounds", Site: exam.LeftUpper}
	sound := func(word string) []int16 {
		h := horse(t, "clover", 4)
		h.truth[place] = exam.Value{Kind: exam.KindMarks, Words: []string{word}}
		return h.Sound(place, 0, 30)
	}
	soft := sound("soft")
	assert.Greater(t, power(sound("harsh"), 200, 600), 3*power(soft, 200, 600))
	assert.Less(t, power(sound("absent"), 200, 600), power(soft, 200, 600)/10)
	assert.Greater(t, power(sound("wheezes"), 495, 525), 3*power(soft, 495, 525))
	assert.Greater(t, power(sound("rattle"), 90, 150), 3*power(soft, 90, 150))
	assert.Greater(t, power(sound("crackles"), 800, 1100), 2*power(soft, 800, 1100))
}

// Gut sounds begin and end as Sounds says, rumbles low, the rush long; a silent quadrant is silent.
func TestGutSoundsComeAsListed(t *testing.T) {
	h := horse(t, "clover", 4)
	for _, site := range []exam.Site{exam.LeftLower, exam.RightUpper, exam.LeftUpper} {
		samples := h.Sound(exam.Key{Step: "gut.sounds", Site: site}, 0, 300)
		listed := h.Sounds(site, 0, 295)
		found := onsets(loudness(samples), 150, 3)
		if len(found) > len(listed) {
			found = found[:len(listed)]
		}
		require.Len(t, found, len(listed), "%s", site)
		for i, s := range listed {
			assert.InDelta(t, s.AtS, found[i], 0.4, "%s, sound %d (%s)", site, i, s.Kind)
			piece := cut(samples, s.AtS, s.AtS+s.LengthS)
			assert.Positive(t, power(piece, 30, 900))
			switch s.Kind {
			case Rumble:
				assert.Greater(t, power(piece, 40, 150), 5*power(piece, 250, 900))
			case Rush:
				assert.GreaterOrEqual(t, s.LengthS, 5.0)
				assert.Greater(t, power(piece, 250, 700), power(piece, 40, 100))
			case Gurgle, Faint, Loud:
			}
		}
	}
	assert.Zero(t, power(horse(t, "tarn", 1).Sound(exam.Key{Step: "gut.sounds", Site: exam.LeftUpper}, 0, 120), 0, 4000))
}

// Pieces end to end are the whole, the same seed sounds the same, nothing is longer than it may be.
func TestSoundInPieces(t *testing.T) {
	h := horse(t, "merrow", 2)
	for _, k := range []exam.Key{{Step: "heart.rhythm"}, {Step: "lung.sounds", Site: exam.RightLower}, {Step: "gut.sounds", Site: exam.RightUpper}} {
		whole := h.Sound(k, 3, 33)
		require.Len(t, whole, 30*SampleRate)
		var pieces []int16
		for s := 3.0; s < 33; s += 2.5 {
			pieces = append(pieces, h.Sound(k, s, s+2.5)...)
		}
		assert.Equal(t, whole, pieces)
		assert.Equal(t, whole, horse(t, "merrow", 2).Sound(k, 3, 33))
		loudest := 0
		for _, s := range whole {
			loudest = max(loudest, int(s), -int(s))
		}
		assert.Greater(t, loudest, 1000, "%s is heard", k.Step)
		assert.Less(t, loudest, 32000)
	}
	assert.Nil(t, h.Sound(exam.Key{Step: "gum.colour"}, 0, 10))
	assert.Nil(t, h.Sound(exam.Key{Step: "heart.rate"}, 10, 10))
	assert.Len(t, h.Sound(exam.Key{Step: "breath.rate"}, 0, 5000), MostSoundS*SampleRate)
}
