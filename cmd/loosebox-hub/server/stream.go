package server

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"loosebox/exam/roster"
	"loosebox/storage/share/hub"
)

// maxMessage is the longest message of the stream, in bytes: a segment has at most 200 kB before it is compressed.
const maxMessage = 320 << 10

// streamConfig is the one stream of a practice.
func streamConfig(practice string, bytes int64, replicas int) jetstream.StreamConfig {
	return jetstream.StreamConfig{
		Name: hub.Stream(practice), Description: "loosebox: logs of a practice's laptops",
		Subjects: []string{"log.v1." + practice + ".*.*", "carry.v1." + practice + ".*.*"},
		Storage:  jetstream.FileStorage, Retention: jetstream.LimitsPolicy, Discard: jetstream.DiscardNew,
		MaxBytes: bytes, MaxMsgSize: maxMessage, Duplicates: 2 * time.Minute, Replicas: replicas,
		DenyDelete: true, DenyPurge: true, AllowDirect: true,
		RePublish: &jetstream.RePublish{Source: ">", Destination: "new.v1." + practice + ".>", HeadersOnly: true},
	}
}

// MakeStream makes the stream of a practice, by its ID, of at most so many bytes, or sets its size and replicas. The error is
// that of the server.
func MakeStream(ctx context.Context, nc *nats.Conn, practice string, bytes int64, replicas int) error {
	js, err := jetstream.New(nc)
	if err == nil {
		_, err = js.CreateOrUpdateStream(ctx, streamConfig(practice, bytes, replicas))
	}
	if err != nil {
		return fmt.Errorf("make the practice's stream: %w", err)
	}
	return nil
}

// statements reads the statements about the practice's laptops from its stream.
func statements(ctx context.Context, nc *nats.Conn, practice string) (said []roster.Statement, err error) {
	for seq := uint64(1); ; {
		q, err := json.Marshal(map[string]any{"seq": seq, "next_by_subj": saidSubject(practice)})
		if err != nil {
			return nil, err
		}
		m, err := nc.RequestWithContext(ctx, "$JS.API.DIRECT.GET."+hub.Stream(practice), q)
		if err != nil {
			return nil, fmt.Errorf("read what was said of the laptops: %w", err)
		}
		if m.Header.Get("Status") == "404" {
			return said, nil
		}
		at, err := strconv.ParseUint(m.Header.Get("Nats-Sequence"), 10, 64)
		if err != nil {
			return nil, errors.New("read what was said of the laptops: the answer has no sequence")
		}
		if s, err := roster.ReadStatement(m.Data); err == nil {
			said = append(said, s)
		}
		seq = at + 1
	}
}

func saidSubject(practice string) string { return "carry.v1." + practice + ".*.roster" }
