package server

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"text/template"

	"github.com/nats-io/nats.go"

	"loosebox/exam/roster"
	"loosebox/storage/share/hub"
)

// confText is the configuration of a stock nats-server (docs.nats.io, Server Config).
const confText = `# A stock nats-server as the hub of the practice {{.Name}}. Written by loosebox-hub.
# When a laptop comes in or goes out, write it again and reload: nats-server --signal reload
listen: "{{.Listen}}"
server_name: "{{.Server}}"
max_payload: 1MB
write_deadline: "60s"
jetstream {
  store_dir: {{printf "%q" .Store}}
  max_mem: 64MB
  max_file: {{.MaxFile}}
  sync_interval: always
}
tls {
  cert_file: {{printf "%q" .Cert}}
  key_file: {{printf "%q" .Key}}
  min_version: "1.3"
}
{{- if gt .Replicas 1}}
# Fill in the other servers; each needs its own server_name, and all the same certificate.
cluster {
  name: "hub_{{.ID}}"
  listen: "0.0.0.0:6222"
  routes: []
  tls {
    cert_file: {{printf "%q" .Cert}}
    key_file: {{printf "%q" .Key}}
    ca_file: {{printf "%q" .Cert}}
    verify: true
    insecure: true # names do not matter: both sides must show this one certificate
    pinned_certs: ["{{.Pin}}"]
  }
}
{{- end}}
authorization {
  users: [
    # makes the stream: loosebox-hub --make-stream
    { nkey: {{.Admin}}, permissions: { publish: { allow: ["$JS.API.INFO", "$JS.API.STREAM.INFO.*", "$JS.API.STREAM.CREATE.*", "$JS.API.STREAM.UPDATE.*"] }, subscribe: { allow: ["_INBOX.>"] } } }
{{- range .Laptops}}
    # {{.Name}}
    { nkey: {{.Key}}, permissions: {
      publish: { allow: [{{.Publish}}] }
      subscribe: { allow: [{{.Subscribe}}] } } }
{{- end}}
  ]
}
`

type confLaptop struct{ Name, Key, Publish, Subscribe string }

// WriteConf writes a configuration for a stock nats-server to file, for that many replicas, and makes certificate and keys
// in the data folder where they are missing. An error where the practice or a file cannot be read or written.
func WriteConf(o Options, file string, replicas int) error {
	dir, err := filepath.Abs(o.Dir)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	p, err := openPractice(dir, o.Practice)
	if err != nil {
		return err
	}
	pair, _, err := certificate(dir, o.Now())
	if err != nil {
		return err
	}
	boss, err := admin(dir)
	if err != nil {
		return err
	}
	bossKey, err := boss.PublicKey()
	if err != nil {
		return fmt.Errorf("write the configuration: %w", err)
	}
	r := p.roster()
	id := r.Practice.ID()
	var laptops []confLaptop
	for _, l := range r.Laptops() {
		if l.Membership == roster.In {
			key := hub.KeyName(l.Key)
			laptops = append(laptops, confLaptop{oneLine(l.Name), key, quoted(mayPublish(id, key)), quoted(maySubscribe(id, key))})
		}
	}
	var b bytes.Buffer
	err = template.Must(template.New("").Parse(confText)).Execute(&b, map[string]any{
		"Name": oneLine(r.Practice.Name), "Listen": o.Listen, "Server": "hub_" + id[:8] + "_1", "ID": id[:8], "Replicas": replicas,
		"Store": filepath.Join(dir, "js"), "MaxFile": (o.MaxBytes + o.MaxBytes/8 + 64<<20) * int64(replicas),
		"Pin": fmt.Sprintf("%x", sha256.Sum256(pair.Leaf.RawSubjectPublicKeyInfo)), "Cert": filepath.Join(dir, CertificateName), "Key": filepath.Join(dir, keyName), "Admin": bossKey, "Laptops": laptops,
	})
	if err != nil {
		return fmt.Errorf("write the configuration: %w", err)
	}
	return writeFile(file, b.Bytes(), 0o600)
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

func quoted(list []string) string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = fmt.Sprintf("%q", s)
	}
	return strings.Join(out, ", ")
}

// MakeStreamAt makes the practice's stream in a stock nats-server at an address, host:port, that runs with the configuration
// of WriteConf. An error where the server cannot be reached or refuses.
func MakeStreamAt(ctx context.Context, o Options, address string, replicas int) error {
	p, err := openPractice(o.Dir, o.Practice)
	if err != nil {
		return err
	}
	_, text, err := certificate(o.Dir, o.Now())
	if err != nil {
		return err
	}
	boss, err := admin(o.Dir)
	if err != nil {
		return err
	}
	key, err := boss.PublicKey()
	if err != nil {
		return fmt.Errorf("make the practice's stream: %w", err)
	}
	pinned, urls, err := hub.Pinned(roster.Hub{Address: address, Certificate: string(text)}, o.Now)
	if err != nil {
		return err
	}
	nc, err := nats.Connect(strings.Join(urls, ","), nats.Nkey(key, boss.Sign), nats.Secure(pinned))
	if err != nil {
		return fmt.Errorf("the server at %s cannot be reached: %w", address, err)
	}
	defer nc.Close()
	ctx, stop := context.WithTimeout(ctx, startTime)
	defer stop()
	if err := MakeStream(ctx, nc, p.roster().Practice.ID(), o.MaxBytes, replicas); err != nil {
		return err
	}
	o.Say("the stream of the practice is there")
	return nil
}
