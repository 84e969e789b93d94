package yamlfile

import (
	"encoding/json"
	"fmt"
	"strings"

	"bygone.example/core/label"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/unit"
)

// roots are the forms of whole files, by the kind that the first line names.
func roots() map[string]*form {
	return map[string]*form{"pattern": patternForm, "chain": chainForm, "wearer": wearerForm, "rules": rulesForm, "labels": languageForm}
}

// SchemaKinds lists the kinds of file that Schema knows, sorted.
func SchemaKinds() []string { return sortedKeys(roots()) }

// Schema returns the JSON Schema (draft 7, which most editors know) of a kind of file, made from the
// forms that the reader itself goes by; ok is false of a kind there is none of.
// An editor that knows it can offer keys and words and tell a slip while it is
// made. It cannot tell what only the whole file shows: names that name nothing,
// edges that do not meet, marks off their edge. Those the reader refuses.
//
// It is a little stricter than the reader in what can be written otherwise: a key
// with nothing after it, and a name that is all digits without quotes.
func Schema(kind string) (data []byte, ok bool) {
	root := roots()[kind]
	if root == nil {
		return nil, false
	}
	s := schemer{defs: object{}}
	top := s.form(root)
	top["$schema"] = "http://json-schema.org/draft-07/schema#"
	top["$id"] = "https://bygone.example/schemas/" + kind + "-1.json"
	top["title"] = "Bygone: a " + kind + " file"
	switch kind {
	case "rules":
		top["title"] = "Bygone: the rules file of a shared repository"
	case "labels":
		top["title"] = "Bygone: a language for labels"
	}
	if len(s.defs) > 0 {
		top["definitions"] = s.defs
	}
	data, err := json.MarshalIndent(top, "", "  ")
	if err != nil {
		return nil, false // strings, numbers and booleans always marshal
	}
	return append(data, '\n'), true
}

type object = map[string]any

// schemer gathers the definitions that a schema refers to.
type schemer struct{ defs object }

// The patterns of names, as ECMA regular expressions.
const (
	namePart     = `[a-z0-9](?:[a-z0-9-]*[a-z0-9])?`
	namePattern  = `^` + namePart + `$`
	dotPattern   = `^` + namePart + `(?:\.` + namePart + `)*$`
	opPart       = `[a-z](?:-?[a-z0-9])*`
	opPattern    = `^` + opPart + `\.` + opPart + `$`
	refPattern   = `^-?` + namePart + `/` + namePart + `(?:\.` + namePart + `)*$`
	linePattern  = `^[^\n]*$`
	filePattern  = `^[^\n\\]+$`
	codePattern  = `^[a-z]+(?:-[a-z]+)*$`
	notWithin    = `^(?:/|\.\.?(?:/|$))|/$|//|/\.\.?(?:/|$)|^\s*$`
	noFile       = `^(?:/|-$|.:|\s*$)`
	lengthStart  = `^\s*[-−+]?\s*[0-9.,½¼¾⅛⅜⅝⅞⅓⅔]`
	notBlankLine = `^[^\n]*[^\s][^\n]*$`
)

// form returns the schema of a set of keys.
func (s *schemer) form(m *form) object {
	properties := object{}
	var required []string
	together, rules := object{}, []any{}
	for _, f := range m.fields {
		if f.with != "" {
			together[f.key] = []string{f.with}
		}
		if len(f.then) == 2 {
			rules = append(rules, object{
				"if":   object{"properties": object{f.key: object{"const": f.then[0]}}, "required": []string{f.key}},
				"then": object{"required": []string{f.then[1]}},
			})
		}
		p := s.field(f)
		if f.help != "" {
			if p["$ref"] != nil { // what stands beside a reference is not looked at
				p = object{"allOf": []any{p}}
			}
			p["description"] = f.help
		}
		properties[f.key] = p
		if f.must != "" || f.kind == headerKind {
			required = append(required, f.key)
		}
	}
	o := object{"type": "object", "properties": properties, "additionalProperties": false}
	if len(required) > 0 {
		o["required"] = required
	}
	if len(together) > 0 {
		o["dependencies"] = together
	}
	if len(rules) > 0 {
		o["allOf"] = rules
	}
	return o
}

// refer returns a reference to the schema of a form, which it defines.
func (s *schemer) refer(m *form) object {
	name := strings.ReplaceAll(strings.TrimPrefix(m.what, "the "), " ", "-")
	if s.defs[name] == nil {
		s.defs[name] = object{} // a form that holds itself would otherwise never end
		s.defs[name] = s.form(m)
	}
	return object{"$ref": "#/definitions/" + name}
}

// field returns the schema of a key's value.
func (s *schemer) field(f field) object {
	switch f.kind {
	case headerKind:
		return object{"const": f.words[0]}
	case nameKind:
		return object{"type": "string", "pattern": namePattern, "maxLength": pattern.MaxName}
	case dottedKind:
		return object{"type": "string", "pattern": dotPattern, "maxLength": pattern.MaxName}
	case opKind:
		return object{"type": "string", "pattern": opPattern, "maxLength": 2*operation.MaxName + 1}
	case fileKind:
		return fileSchema()
	case withinKind:
		return object{"type": "string", "pattern": filePattern, "not": object{"pattern": notWithin}, "maxLength": maxLine}
	case codeKind:
		return object{"type": "string", "pattern": codePattern}
	case pathKind:
		return object{"type": "string", "pattern": `^\s*[Mm]`}
	case lineKind:
		// A title of digits is a number to YAML, and a title to us.
		return object{"type": []string{"string", "number", "boolean"}, "pattern": linePattern, "maxLength": maxLine}
	case textKind:
		return object{"type": []string{"string", "number", "boolean"}}
	case valueKind:
		return valueSchema()
	case choiceKind:
		return object{"enum": f.words}
	case numberKind:
		return bounded("number", f)
	case countKind:
		return bounded("integer", f)
	case yesKind:
		return object{"enum": []any{true, false, "yes", "no"}}
	case lengthKind:
		return lengthSchema()
	case pointKind:
		return pair(number())
	case rangeKind:
		return pair(number())
	case stretchKind:
		return pair(pair(number()))
	case refsKind:
		return refs()
	case sideKind:
		return object{"anyOf": []any{object{"const": mirror}, refs()}}
	case meetingKind:
		return object{"anyOf": []any{object{"enum": f.words}, s.refer(f.of)}}
	case groupKind:
		return s.refer(f.of)
	case listKind:
		list := object{"type": "array", "items": s.refer(f.of), "maxItems": pattern.MaxCount}
		if f.must != "" {
			list["minItems"] = 1
		}
		return list
	case filesKind:
		return object{
			"type": "object", "maxProperties": maxOthers, "propertyNames": object{"pattern": namePattern, "maxLength": pattern.MaxName, "not": object{"const": operation.Only}},
			"additionalProperties": fileSchema(),
		}
	case settingKind:
		return object{
			"type": "object", "propertyNames": object{"pattern": `^` + opPart + `$`, "maxLength": operation.MaxName},
			"additionalProperties": object{"anyOf": []any{valueSchema(), s.refer(f.of)}},
		}
	case measureKind:
		return keyed(f, lengthSchema())
	case boundsKind:
		return keyed(f, object{"type": "number", "exclusiveMinimum": f.min, "maximum": f.max})
	case phraseKind:
		properties := object{}
		for _, key := range f.keys {
			properties[key] = phraseSchema(label.Word(key))
		}
		return object{"type": "object", "properties": properties, "additionalProperties": false}
	case callsKind:
		return object{"type": "object", "additionalProperties": object{"type": []string{"string", "number", "boolean"}, "pattern": notBlankLine, "maxLength": maxLine}}
	}
	panic(fmt.Sprintf("yamlfile: no schema for %s", f.kind)) // a kind of ours that nobody has described
}

// phraseSchema is of a phrase: it holds the blanks that the English one has,
// and no brace besides.
func phraseSchema(w label.Word) object {
	text := `[^{}\n]`
	all := []any{}
	kinds := []string{"string"}
	if len(label.Blanks(w)) == 0 {
		kinds = append(kinds, "number", "boolean")
	}
	for _, b := range label.Blanks(w) {
		quoted := `\{` + strings.Trim(b, "{}") + `\}`
		text += `|` + quoted
		all = append(all, object{"pattern": quoted})
	}
	all = append(all, object{"pattern": `^(?:` + text + `)*$`}, object{"pattern": notBlankLine})
	return object{"type": kinds, "maxLength": maxLine, "description": "In English: " + label.English().Text(w), "allOf": all}
}

// keyed is a table of keys that are known, all with values of one sort.
func keyed(f field, value object) object {
	properties := object{}
	for _, key := range f.keys {
		properties[key] = value
	}
	return object{"type": "object", "properties": properties, "additionalProperties": false}
}

func number() object {
	return object{"type": "number", "minimum": -unit.MaxLength, "maximum": unit.MaxLength}
}

func bounded(kind string, f field) object {
	o := object{"type": kind}
	if f.min != 0 || f.max != 0 {
		o["minimum"], o["maximum"] = f.min, f.max
	}
	return o
}

func pair(item object) object {
	return object{"type": "array", "items": item, "minItems": 2, "maxItems": 2}
}

func refs() object {
	return object{"type": "array", "items": object{"type": "string", "pattern": refPattern}, "minItems": 1, "maxItems": pattern.MaxCount}
}

// fileSchema is of a file's name, as seen from another file's folder.
func fileSchema() object {
	return object{"type": "string", "pattern": filePattern, "not": object{"pattern": noFile}, "maxLength": maxLine}
}

// lengthSchema is of a length with its unit: it begins with a number and does not
// end with one.
func lengthSchema() object {
	return object{"type": "string", "pattern": lengthStart, "not": object{"pattern": `[0-9.]\s*$`}}
}

// valueSchema is of what a step is set to: 64mm, 1.45, yes, left.
func valueSchema() object {
	return object{"anyOf": []any{object{"type": "string", "pattern": notBlankLine, "maxLength": maxLine}, object{"type": []string{"number", "boolean"}}}}
}
