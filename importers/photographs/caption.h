// The side file of a photograph: NAME.txt beside NAME.jpg.
//
//   source: source:photo-stand-1958     lines `column: value` at the top describe the photograph: `source` its key,
//   issued: 1958-06                     `private: yes`, else the columns of `sources`
//   private: yes
//                                       an empty line, then the caption
//   The stand at the fair, with the [Lantern](shape:lantern) jug.
//   xywh=40,10,80,120 [Orlop](shape:orlop) tureen
//
// A link in the caption makes the photograph document the thing; in a line that begins with a region (Media Fragments),
// in that region.
#pragma once

#include <string>
#include <vector>

#include "importers/photographs/picture_head.h"
#include "importers/sink.h"
#include "importers/text_input.h"

namespace saggar {

struct CaptionLine {
    std::string at;  // "xywh=…"; empty: the whole picture
    std::string text;
    Place place;
};

struct Caption {
    Source source;       // what the lines at the top say
    FieldPlaces places;  // of them
    std::vector<CaptionLine> lines;
};

// Problems: a field that does not fit, a region outside the picture. `picture` may be null: regions are not held against it.
Caption read_caption(TextInput& input, const PictureHead* picture);

}  // namespace saggar
