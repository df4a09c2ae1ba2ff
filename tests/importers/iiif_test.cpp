#include "importers/iiif.h"

#include <catch2/catch.hpp>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;

namespace {

// Laid out as IIIF Presentation API 3.0, section 5 and appendix B, show a manifest; the content is made up.
const std::string manifest =
    R"({"@context": "http://iiif.io/api/presentation/3/context.json", "id": "https://example.org/iiif/book/manifest",
  "type": "Manifest", "label": {"en": ["Pattern book"], "fr": ["Livre"]}, "rights": "http://creativecommons.org/licenses/by/4.0/",
  "summary": {"none": ["Drawings."]}, "metadata": [{"label": {"en": ["Date"]}, "value": {"none": ["about 1935"]}}],
  "items": [{"id": "https://example.org/iiif/book/p1", "type": "Canvas", "label": {"none": ["f. 1r"]}, "height": 1800, "width": 1200,
    "items": [{"type": "AnnotationPage", "items": [{"type": "Annotation", "motivation": "painting", "body": {"id": "x.jpg", "type": "Image"}, "target": "https://example.org/iiif/book/p1"}]}],
    "annotations": [{"type": "AnnotationPage", "items": [{"type": "Annotation", "motivation": "commenting",
      "body": {"type": "TextualBody", "value": "The [Lantern](shape:lantern) jug"}, "target": "https://example.org/iiif/book/p1#xywh=10,20,30,40"}]}]}]})";

}  // namespace

TEST_CASE("a manifest becomes a source with citable canvases", "[iiif]") {
    const Collected read = read_good(manifest, "m.json");
    const Source source = read.only<Source>();
    CHECK(source.key == "source:pattern-book");
    CHECK(source.title == "Pattern book");
    CHECK(source.url == "https://example.org/iiif/book/manifest");
    CHECK(source.rights == "http://creativecommons.org/licenses/by/4.0/");
    CHECK(source.more == std::vector<std::pair<std::string, std::string>>{
                             {"abstract", "Drawings."},
                             {"canvas-1", "f. 1r, https://example.org/iiif/book/p1, 1200 x 1800"},
                             {"date", "about 1935"}});
    const Evidence evidence = read.only<Evidence>();
    CHECK(evidence.at == "canvas 1, xywh=10,20,30,40");
    CHECK(evidence.quote == "The Lantern jug");
    CHECK(read.only<Claim>().object.text == "shape:lantern");
}

TEST_CASE("--source names the manifest's source", "[iiif]") {
    ReadOptions options;
    options.source = "source:book-7";
    CHECK(read_good(manifest, "m.json", options).only<Source>().key == "source:book-7");
}
