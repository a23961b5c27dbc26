package signedlog

import (
	_ "embed"
	"encoding/binary"
	"errors"
	"fmt"
	"sync"

	"github.com/klauspost/compress/zstd"
)

// dictionary is what lines of a record have in common: it stands before the first byte
// of each packed text. A dictionary that was ever released is never changed; a better
// one gets a number of its own.
//
//go:embed dictionary-1.bin
var dictionary []byte

// dictionaryOne is the number of the dictionary, and the first byte of what it packed.
const dictionaryOne = 1

var errPacked = errors.New("it cannot be unpacked")

// Lines are packed once and kept for good, what is derived from them is made again and
// again: an encoder of the better level begins each text with tables of four megabytes.
var (
	packer   = encoder(zstd.SpeedBetterCompression)
	squeezer = encoder(zstd.SpeedFastest)
)

func encoder(level zstd.EncoderLevel) func() *zstd.Encoder {
	return sync.OnceValue(func() *zstd.Encoder { return newEncoder(level) })
}

func newEncoder(level zstd.EncoderLevel) *zstd.Encoder {
	enc, err := zstd.NewWriter(nil, zstd.WithEncoderLevel(level), zstd.WithEncoderConcurrency(2),
		zstd.WithWindowSize(512<<10), zstd.WithEncoderCRC(false), zstd.WithEncoderDictRaw(dictionaryOne, dictionary))
	if err != nil {
		panic(err) // the options are constants
	}
	return enc
}

var unpacker = sync.OnceValue(func() *zstd.Decoder {
	dec, err := zstd.NewReader(nil, zstd.WithDecoderConcurrency(0), zstd.WithDecoderMaxMemory(2*mostRaw),
		zstd.WithDecoderDictRaw(dictionaryOne, dictionary))
	if err != nil {
		panic(err) // the options are constants
	}
	return dec
})

// Compress packs bytes with the dictionary of lines, quickly. It is safe for use by several
// goroutines.
func Compress(raw []byte) []byte { return compress(squeezer(), raw) }

func compress(enc *zstd.Encoder, raw []byte) []byte {
	return enc.EncodeAll(raw, append(make([]byte, 0, 64+len(raw)/4), dictionaryOne))
}

// Decompress unpacks what Compress made, 8 MB at most.
func Decompress(packed []byte) ([]byte, error) {
	if len(packed) == 0 || packed[0] != dictionaryOne {
		return nil, errPacked
	}
	raw, err := unpacker().DecodeAll(packed[1:], nil)
	if err != nil {
		return nil, fmt.Errorf("%w (%w)", errPacked, err)
	}
	return raw, nil
}

// Pack puts the cores of a segment into one packed text.
func Pack(cores [][]byte) []byte {
	size := 0
	for _, c := range cores {
		size += len(c) + 3
	}
	raw := make([]byte, 0, size)
	for _, c := range cores {
		raw = binary.AppendUvarint(raw, uint64(len(c)))
		raw = append(raw, c...)
	}
	return compress(packer(), raw)
}

// Unpack takes the cores out again; want is how many there are.
func Unpack(packed []byte, want int) ([][]byte, error) {
	raw, err := Decompress(packed)
	if err != nil {
		return nil, err
	}
	if want < 0 || want > len(raw) {
		return nil, errPacked
	}
	cores := make([][]byte, want)
	for i := range cores {
		n, size := binary.Uvarint(raw)
		if size <= 0 || n > uint64(len(raw)-size) {
			return nil, errPacked
		}
		cores[i] = raw[size : size+int(n) : size+int(n)]
		raw = raw[size+int(n):]
	}
	if len(raw) > 0 {
		return nil, errPacked
	}
	return cores, nil
}
