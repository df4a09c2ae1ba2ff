#include "importers/photographs/region.h"

#include <catch2/catch.hpp>

using namespace saggar;

TEST_CASE("regions are those of Media Fragments 1.0") {
    // W3C Media Fragments URI 1.0 (basic), section 4.2.2, examples and rules.
    CHECK(read_region("xywh=160,120,320,240"));
    CHECK(read_region("xywh=pixel:160,120,320,240"));
    CHECK(read_region("xywh=percent:25,25,50,50")->percent);
    for (const char* const wrong :
         {"xywh=", "xywh=1,2,3", "xywh=1,2,3,4,5", "xywh=1.5,2,3,4", "xywh=-1,2,3,4", "xywh=1,2,0,4", "xywh=1,2,3,0",
          "xywh=1, 2,3,4", "xywh=percent:60,0,50,10", "xywh=em:1,2,3,4", "t=1,2", "xywh=99999999999,1,1,1"}) {
        INFO(wrong);
        CHECK_FALSE(read_region(wrong));
    }
    CHECK(lies_within(*read_region("xywh=0,0,100,50"), 100, 50));
    CHECK_FALSE(lies_within(*read_region("xywh=1,0,100,50"), 100, 50));
    CHECK_FALSE(lies_within(*read_region("xywh=4294967295,0,4294967295,1"), 100, 50));
}
