package main

// examples are the examples of the commands that have none of their own, by the
// command's path. A test runs each of them on the invented yard.
func examples() map[string]string {
	return map[string]string{
		"loosebox": `  loosebox demo
  loosebox exam Bramble --plain`,
		"loosebox after": `  loosebox after Bramble@last`,
		"loosebox backup": `  loosebox backup barn.tar.age
  loosebox backup --drill`,
		"loosebox check":                 `  loosebox check`,
		"loosebox compare":               `  loosebox compare Bramble --last 3`,
		"loosebox completion bash":       `  loosebox completion bash`,
		"loosebox completion fish":       `  loosebox completion fish`,
		"loosebox completion powershell": `  loosebox completion powershell`,
		"loosebox completion zsh":        `  loosebox completion zsh`,
		"loosebox completion":            `  loosebox completion bash`,
		"loosebox count":                 `  loosebox count --times times.txt --what breath`,
		"loosebox demo":                  `  loosebox demo --keep yard`,
		"loosebox labels":                `  loosebox labels Bramble@last --stock A4-65 --skip 3 -o labels.pdf`,
		"loosebox due": `  loosebox due Bramble
  loosebox due --all`,
		"loosebox exam": `  loosebox exam Bramble
  loosebox exam Bramble --routine colic-check --by "Ann Bell" --plain`,
		"loosebox export": `  loosebox export -o all.jsonl
  loosebox export --as csv --for teaching -o lesson.csv`,
		"loosebox help": `  loosebox help exam`,
		"loosebox horses": `  loosebox horses
  loosebox horses --find lindqvist`,
		"loosebox import": `  loosebox import old.jsonl
  loosebox import old.csv --propose
  loosebox import old.csv --map map.yaml --dry-run`,
		"loosebox imports": `  loosebox imports
  loosebox imports --json`,
		"loosebox judge": `  loosebox judge exams.csv`,
		"loosebox keys":  `  loosebox keys`,
		"loosebox man":   `  loosebox man manual`,
		"loosebox marks": `  loosebox marks last`,
		"loosebox ranges": `  loosebox ranges --class "adult light horse"
  loosebox ranges --summary`,
		"loosebox read":      `  loosebox read Bramble@last --by "Dr Vale" --role veterinarian --words "Seen and agreed; tape the weight again in a week."`,
		"loosebox rebuild":   `  loosebox rebuild`,
		"loosebox follow-up": `  loosebox follow-up Wren@last --on 3d --what "the navel" --by "Ann Bell"`,
		"loosebox rehearsals": `  loosebox rehearsals
  loosebox rehearsals --person "Ivo Marsh" --as csv -o marks.csv`,
		"loosebox rehearse": `  loosebox rehearse --list
  loosebox rehearse --case tarn --seed 7 --by "Ann Bell"
  loosebox rehearse --exam spring.yaml --by "Ann Bell"`,
		"loosebox class": `  loosebox class spring.yaml
  loosebox class spring.yaml --as pdf -o class.pdf
  loosebox class spring.yaml --sheet "Ann Bell" --as pdf -o ann.pdf`,
		"loosebox restore": `  loosebox restore stick.tar.age --data restored`,
		"loosebox round": `  loosebox round
  loosebox round --day 2026-03-04`,
		"loosebox round reassign": `  loosebox round reassign Bramble --to "Dr Vale" --words "the left fore" --by "Ann Bell"`,
		"loosebox round skip":     `  loosebox round skip Bramble --words "at a show" --by "Ann Bell"`,
		"loosebox round pick":     `  loosebox round pick Bramble --words "coughed" --by "Ann Bell"`,
		"loosebox round seen":     `  loosebox round seen Bramble --words "bright, ate up" --by "Ann Bell"`,
		"loosebox share":          `  loosebox share status`,
		"loosebox share start":    `  loosebox share start "Hollow Farm Vets" --key practice.key`,
		"loosebox share request":  `  loosebox share request --name truck -o stick/truck.request`,
		"loosebox share admit":    `  loosebox share admit truck.request --key practice.key -o truck.answer`,
		"loosebox share join":     `  loosebox share join truck.answer`,
		"loosebox share out":      `  loosebox share out truck --key practice.key`,
		"loosebox share hub":      `  loosebox share hub`,
		"loosebox share seal":     `  loosebox share seal`,
		"loosebox share now":      `  loosebox share now --folder stick`,
		"loosebox share arrived":  `  loosebox share arrived`,
		"loosebox share status":   `  loosebox share status`,
		"loosebox share watch":    `  loosebox share watch --folder stick --for 1s`,
		"loosebox sheet": `  loosebox sheet --routine colic-check
  loosebox sheet --horse Bramble --as pdf --paper Letter -o sheet.pdf`,
		"loosebox take-over": `  loosebox take-over Bramble@last --asked "Eva Lind" --by "Ann Bell"`,
		"loosebox settings": `  loosebox settings
  loosebox settings site_ml 8mL --by "Ann Bell"`,
		"loosebox settle": `  loosebox settle`,
		"loosebox join":   `  loosebox join Bramble Wren --look`,
		"loosebox part":   `  loosebox part Bramble Wren --why "two bays" --by "Ann Bell"`,
		"loosebox show": `  loosebox show last
  loosebox show Bramble@last --as pdf --for owner -o bramble.pdf`,
		"loosebox void":    `  loosebox void Bramble@last --reason "the other bay" --by "Ann Bell"`,
		"loosebox version": `  loosebox version`,
		"loosebox visits":  `  loosebox visits Bramble`,
	}
}
