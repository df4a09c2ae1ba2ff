// IIIF Presentation 3.0 manifests: a digitised thing as a source, its canvases citable, notes on them as mentions.
//
// The manifest becomes a source: its label the title, its id the url, `rights` and `summary` as they are, the pairs of
// `metadata` as further fields, and for each canvas a field `canvas-N` with its label, id and size, so that evidence can say
// "canvas 3, xywh=10,10,40,40". An annotation on a canvas (in `annotations`, not the painting itself) whose text links a thing,
// [words](kind:slug), is a mention at that canvas and region. Language maps give the vocabulary's language, else "none", else
// the first. The key is `source:` and the slug of the label, unless --source names one.
#pragma once

#include "importers/claim_rows.h"
#include "importers/text_input.h"

namespace saggar {

void read_iiif(TextInput& input, const ReadContext& context, Sink& sink, const std::string& source_key = {});

}  // namespace saggar
