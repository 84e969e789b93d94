// Package yamlfile is the form in which patterns, chains, wearers and rules are kept
// at rest: YAML made to be read in a review.
//
// Reading is strict. Unknown keys, doubled keys, wrong types, numbers that are
// not ordinary, names that name nothing, and whatever pattern.Validate finds
// are refused all at once, as source.Problems, each with its line and column.
//
// Writing has one form: keys in a fixed order, one mark to a line, lengths in
// plain mm with at most unit.Decimals decimals. Coordinates are rounded on
// reading as on writing, so that what was written reads back the same, and a
// pattern that was read once is written the same for ever.
//
// A pattern file:
//
//	bygone: pattern/1
//	name: stock-dress
//	title: Stock dress
//	pieces:
//	  - name: front
//	    title: Bodice front
//	    role: bodice-front
//	    cut: {count: 1}                  # or {count: 2, mirrored: true}
//	    grain: [[10, 20], [10, 220]]
//	    edges:                           # counter-clockwise
//	      - name: neckline
//	        path: M 0 400 C 20 398 40 380 60 360
//	        finish: faced                # fold, hem, faced, bound, open; sewn when absent
//	        allowance: 15
//	        corner: bevel                # bevel, square, turned, matched; meet when absent
//	    landmarks:
//	      - {name: bust-point, at: [95, 180]}
//	    darts:
//	      - {name: waist-dart, edge: waist, from: 87.3, to: 117.3, point: [95, 190], pressed: start}
//	    pleats:
//	      - {name: pleat, edge: waist, from: 10, to: 20, kind: knife, pressed: end}
//	    gathers:
//	      - {name: head, edge: cap, from: 40, to: 240, length: 160, kind: gathers}
//	      - {name: back, edge: waist, from: 60, to: 660, length: 150, kind: cartridge, stitch: 6, rows: 3}
//	    notches:
//	      - {name: side, edge: side, at: 81.5, count: 2}
//	seams:
//	  - name: side
//	    a: [front/side]
//	    b: [-back/side]                  # walked against its own direction
//	    meeting: plain                   # or {kind: eased, ease: [5, 30]}, {kind: gathered, ratio: [1.2, 3]}
//	  - name: centre-back
//	    a: [back/centre-back]
//	    b: mirror                        # sewn to its own mirror image
//	    meeting: plain
//	  - name: front-veil
//	    a: [veil/waist]                  # of the outer layer
//	    b: [front/waist]                 # the edge under it, which is in a seam of its own besides
//	    kind: basted                     # joined when absent
//	    meeting: gathered
//
// An edge's role is written where it is not the name up to its first dot.
//
// A chain file:
//
//	bygone: chain/1
//	name: high-waist-1806
//	title: High waist
//	years: c. 1800–1815
//	patterns:                            # others that steps look at
//	  spencer: ../patterns/spencer.yaml  # from the folder of the chain file
//	steps:
//	  - step: waist.raise
//	    name: raise-waist                # the operation when absent
//	    why: The waist of the period sits under the bust.
//	    with:
//	      below-armscye: {value: 64mm, mark: published, source: "…"}
//	      keep-length: yes
//	expect:                              # what the chain is tried on by a check
//	  - pattern: ../patterns/stock-dress.yaml
//	    result: expected/stock-dress.yaml
//	    tolerance: 0.1mm                 # this when absent
//	    wearer: ../wearers/lead.yaml     # none when absent
//
// A wearer file:
//
//	bygone: wearer/1
//	name: lead
//	title: Leading role
//	measures:
//	  bust-girth: 92cm
//
// The rules file of a shared repository:
//
//	bygone: rules/1
//	tolerances:                          # mm, degrees or a ratio, plain numbers
//	  length: 0.2
//	exceptions:
//	  - code: corner-kink
//	    file: patterns/blouse.yaml       # from the folder of the rules file
//	    piece: bodice-front              # piece, edge and seam where it is for one only
//	    edge: neckline
//	    reason: The binding hides it.
package yamlfile
