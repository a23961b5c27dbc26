package signedlog

import "crypto/ed25519"

// Builder makes a new log of bodies, in segments.
type Builder struct {
	key     ed25519.PrivateKey
	take    func(Segment) error
	segment Segment
	last    Digest
	raw     int
}

// NewBuilder begins a log; take gets each of its segments.
func NewBuilder(key ed25519.PrivateKey, nonce Nonce, take func(Segment) error) *Builder {
	public, _ := key.Public().(ed25519.PublicKey) // it is no other
	return &Builder{key: key, take: take, segment: Segment{Log: NameOf(public, nonce), Public: public, Nonce: nonce, First: 1}}
}

// Add adds a record and returns its digest.
func (b *Builder) Add(body []byte) (Digest, error) {
	n := b.segment.First + uint64(len(b.segment.Cores))
	core := Record{Counter: n, Body: body}.Core()
	if len(b.segment.Cores) > 0 && (len(b.segment.Cores) >= MaxRecords || b.raw+len(core) > MaxRaw) {
		if err := b.Close(); err != nil {
			return Digest{}, err
		}
	}
	b.last = b.segment.Log.Next(n, b.last, core)
	b.segment.Cores, b.raw = append(b.segment.Cores, core), b.raw+len(core)
	return b.last, nil
}

// Close signs and hands on what is left.
func (b *Builder) Close() error {
	if len(b.segment.Cores) == 0 {
		return nil
	}
	s := b.segment
	s.Signature = Sign(b.key, s.Log, s.Last(), b.last)
	b.segment.First, b.segment.Prev, b.segment.Cores, b.raw = s.Last()+1, b.last, nil, 0
	return b.take(s)
}
