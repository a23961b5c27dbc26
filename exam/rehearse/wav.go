package rehearse

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"
)

// SampleRate is how many samples a second the sounds have: all that they hold lies well under half of it.
const SampleRate = 8000

// wavHead is the head of a file with one format and one data chunk, in the order of the bytes, all numbers little-endian:
// Microsoft and IBM, Multimedia Programming Interface and Data Specifications 1.0 (1991), chapter 2, RIFF and WAVE.
type wavHead struct {
	RIFF          [4]byte
	Size          uint32 // of what follows
	WAVE          [4]byte
	Format        [4]byte
	FormatSize    uint32
	Tag           uint16 // 1: PCM
	Channels      uint16
	SamplesPerSec uint32
	BytesPerSec   uint32
	BlockAlign    uint16 // bytes a sample of all channels
	BitsPerSample uint16
	Data          [4]byte
	DataSize      uint32
}

// WriteWAV writes samples as a RIFF file of the form WAVE: PCM, one channel, 16 bits, SampleRate. The error is that of
// the writer, or says that the sound is too long for the form (4 GB).
func WriteWAV(w io.Writer, samples []int16) error {
	const headAfterSize = 36
	n := uint64(len(samples)) * 2
	if n > math.MaxUint32-headAfterSize {
		return fmt.Errorf("write sound: %d samples are more than a WAVE file can hold", len(samples))
	}
	h := wavHead{
		RIFF: [4]byte{'R', 'I', 'F', 'F'}, Size: uint32(n) + headAfterSize, WAVE: [4]byte{'W', 'A', 'V', 'E'},
		Format: [4]byte{'f', 'm', 't', ' '}, FormatSize: 16, Tag: 1, Channels: 1,
		SamplesPerSec: SampleRate, BytesPerSec: SampleRate * 2, BlockAlign: 2, BitsPerSample: 16,
		Data: [4]byte{'d', 'a', 't', 'a'}, DataSize: uint32(n),
	}
	b := bufio.NewWriter(w)
	if err := binary.Write(b, binary.LittleEndian, h); err != nil {
		return fmt.Errorf("write sound: %w", err)
	}
	var two [2]byte
	for _, s := range samples {
		binary.LittleEndian.PutUint16(two[:], uint16(s))
		if _, err := b.Write(two[:]); err != nil {
			return fmt.Errorf("write sound: %w", err)
		}
	}
	if err := b.Flush(); err != nil {
		return fmt.Errorf("write sound: %w", err)
	}
	return nil
}
