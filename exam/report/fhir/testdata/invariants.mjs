// Holds FHIR documents to the invariants of invariants.json with the library fhirpath.
// node invariants.mjs FOLDER-OF-THE-LIBRARY INVARIANTS DOCUMENTS, where DOCUMENTS has one document a line.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'

const [, , folder, table, documents] = process.argv
const load = createRequire(folder + '/')
const fhirpath = load('fhirpath')
const r4 = load('fhirpath/fhir-context/r4')
const rules = JSON.parse(readFileSync(table, 'utf8')).map(rule => ({
  ...rule,
  met: 0,
  each: fhirpath.compile(`(${rule.at}).select(iif(${rule.rule}, true, false))`, r4, { traceFn: () => {} }),
}))

function holds(rule, resource) {
  const each = rule.each(resource, { resource, rootResource: resource })
  rule.met += each.length
  return each.every(held => held)
}

// A rule that does not see the resource which breaks it is none.
const blind = rules.filter(rule => holds(rule, rule.breaks)).map(rule => rule.key)
for (const rule of rules) rule.met = 0

const out = { blind, documents: 0, resources: 0, kinds: {}, met: {}, faults: [], warnings: {} }
function look(resource, of) {
  for (const rule of of) {
    if (holds(rule, resource)) continue
    if (rule.level === 'warning') out.warnings[rule.key] = (out.warnings[rule.key] ?? 0) + 1
    else out.faults.push(`${rule.key} ${resource.resourceType} ${resource.id ?? ''}`)
  }
}
const whole = rules.filter(rule => rule.at.startsWith('Bundle'))
const each = rules.filter(rule => !rule.at.startsWith('Bundle'))
for (const line of readFileSync(documents, 'utf8').split('\n').filter(Boolean)) {
  const bundle = JSON.parse(line)
  out.documents++
  look(bundle, whole)
  for (const { resource } of bundle.entry) {
    out.resources++
    out.kinds[resource.resourceType] = (out.kinds[resource.resourceType] ?? 0) + 1
    look(resource, each)
  }
}
for (const rule of rules) out.met[rule.key] = rule.met
console.log(JSON.stringify(out))
