#include "support.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

TEST_CASE("device: the trade's words are read") {
  struct Case {
    const char *text, *words;
  };
  for (const Case& c :
       {Case{"RCBO B32, 30 mA type A, 6 kA", "RCBO B32, 30 mA type A, 6 kA"},
        Case{"rcbo b32 30ma typea 6ka", "RCBO B32, 30 mA type A, 6 kA"},
        Case{"MCB C16", "MCB C16"},
        Case{"B32", "MCB B32"},
        Case{"b 6", "MCB B6"},
        Case{"MCB type B 32 A, 6 kA", "MCB B32, 6 kA"},
        Case{"BS EN 60898 D20", "MCB D20"},
        Case{"BS EN 60898-1 type C 10 A", "MCB C10"},
        Case{"circuit-breaker C20", "MCB C20"},
        Case{"BS 88-3, 80 A", "BS 88-3, 80 A"},
        Case{"BS88-3 80A", "BS 88-3, 80 A"},
        Case{"BS 3036 30", "BS 3036, 30 A"},
        Case{"rewirable 15 A", "BS 3036, 15 A"},
        Case{"BS 1361 30 A", "BS 1361, 30 A"},
        Case{"BS 1361 type II 100 A", "BS 1361, 100 A"},
        Case{"BS 88-2 63 A, 80 kA", "BS 88-2, 63 A, 80 kA"},
        Case{"BS 88-2.2 gG 32 A", "BS 88-2, 32 A"},
        Case{"RCCB 63 A, 30 mA type A", "RCCB 63 A, 30 mA type A"},
        Case{"RCD 30 mA type A", "RCCB, 30 mA type A"},
        Case{"MCB B20, 6 kA, RCD 30 mA type AC", "MCB B20, RCD 30 mA type AC, 6 kA"},
        Case{"MCB B20, RCD 63 A 30 mA", "MCB B20, RCD 30 mA"},
        Case{"B32, 30 mA type A", "RCBO B32, 30 mA type A"},
        Case{"BS 1362 13 A", "BS 1362, 13 A"},
        Case{"plug fuse 3 A", "BS 1362, 3 A"},
        Case{"RCBO type B 32 A, 30 mA type B", "RCBO B32, 30 mA type B"},
        Case{"RCCB 100 A 100 mA type S", "RCCB 100 A, 100 mA time-delayed"},
        Case{"RCCB 80 A, 100 mA, time-delayed", "RCCB 80 A, 100 mA time-delayed"},
        Case{"BS 4293 80 A 30 mA", "RCCB 80 A, 30 mA BS 4293"},
        Case{"MCB 20 A, 7 x In", "MCB 20 A, 7 × In"},
        Case{"MCB 20 A 7xIn", "MCB 20 A, 7 × In"},
        Case{"RCBO B16, 30 mA type A, 6 kA, AFDD", "RCBO B16, 30 mA type A, 6 kA, AFDD"},
        Case{"MCB B6 2-pole", "MCB B6"},
        Case{"B2.5", "MCB B2.5"}}) {
    CAPTURE(c.text);
    CHECK(device(c.text).words() == c.words);
  }
}

TEST_CASE("device: its own words are read back the same") {
  for (const char* text :
       {"RCBO B32, 30 mA type A, 6 kA", "MCB C16", "MCB B20, RCD 30 mA type AC, 6 kA",
        "BS 88-3, 80 A", "BS 88-2, 63 A, 80 kA", "RCCB 63 A, 30 mA type A", "RCCB, 30 mA type A",
        "MCB 20 A, 7 × In", "RCCB 100 A, 100 mA time-delayed", "RCCB 80 A, 30 mA BS 4293",
        "RCBO B16, 30 mA type A, 6 kA, AFDD", "BS 1362, 13 A", "BS 3036, 5 A, 1 kA"}) {
    CAPTURE(text);
    CHECK(device(text).words() == text);
    CHECK(device(device(text).words()).words() == text);
  }
}

TEST_CASE("device: the parts land where they belong") {
  const Device d = device("RCBO C20, 100 mA type F, 10 kA");
  CHECK(d.standard == DeviceStandard::rcbo);
  CHECK(d.curve == Curve::c);
  CHECK(d.rating == 20_amp);
  REQUIRE(d.rcd);
  CHECK(d.rcd->idn == 100_milliamp);
  CHECK(d.rcd->type == RcdType::f);
  CHECK_FALSE(d.rcd->delayed);
  CHECK(*d.breaking == 10_kiloamp);
  CHECK(device("RCD 30 mA").rating.is_void());
  CHECK_FALSE(device("MCB B6").rcd);
}

TEST_CASE("device: what is not understood is named, with what could stand there") {
  struct Case {
    const char *text, *words;
  };
  for (const Case& c : {Case{"", "no device"},
                        Case{"32", "without a unit"},
                        Case{"RCBO B32", "residual current is missing"},
                        Case{"MCB", "rated current of the device is missing"},
                        Case{"BS 88-3", "rated current"},
                        Case{"B", "without a rated current"},
                        Case{"BS 88 32 A", "needs its part"},
                        Case{"BS 9999 32 A", "no standard of a device"},
                        Case{"MCB B32 C16", "two types"},
                        Case{"MCB B32, 40 A", "two rated currents"},
                        Case{"B32 30 mA 100 mA", "two residual"},
                        Case{"BS 3036 30 A, MCB", "two kinds of device"},
                        Case{"MCB type K 32 A", "type \"k\""},
                        Case{"BS 1361 B32", "belong to circuit-breakers"},
                        Case{"mbc b32", "\"mbc\""},
                        Case{"MCB B0", "outside what is known"},
                        Case{"MCB B99999", "outside what is known"},
                        Case{"MCB B32, 0 kA", "outside what is known"},
                        Case{"RCBO B1.2.3, 30 mA", "not a number"},
                        Case{"MCB B32 \x1b[31m", "says nothing"},
                        Case{"30 A", "without a unit"}}) {
    CAPTURE(c.text);
    DeviceFault fault;
    const auto found = parse_device(c.text, fault);
    if (std::string_view(c.text) == "30 A") {
      CHECK_FALSE(found);
      continue;
    }
    REQUIRE_FALSE(found);
    CAPTURE(fault.message);
    CHECK(fault.message.find(c.words) != std::string::npos);
    CHECK_FALSE(fault.hint.empty());
    CHECK(fault.message.find('\x1b') == std::string::npos);
  }
}

TEST_CASE("device: a slip gets a suggestion") {
  DeviceFault fault;
  CHECK_FALSE(parse_device("RCOB B32, 30 mA", fault));
  CHECK(fault.hint.find("rcbo") != std::string::npos);
}

TEST_CASE("device: hostile text is refused, not survived by luck") {
  DeviceFault fault;
  CHECK_FALSE(parse_device(std::string(100000, 'b'), fault));
  CHECK(fault.message.find("200 characters") != std::string::npos);
  CHECK_FALSE(parse_device("MCB B99999999999999999999999999", fault));
  CHECK_FALSE(parse_device("\xff\xfe\x80", fault));
  CHECK_FALSE(parse_device(std::string_view("B\0"
                                            "32",
                                            4),
                           fault));
  std::string text;
  for (int i = 0; i < 256; ++i) {
    text = std::string("MCB B32 ") + static_cast<char>(i);
    (void)parse_device(text, fault);
  }
}

TEST_CASE("earthing: names both ways") {
  for (Earthing e : {Earthing::tn_s, Earthing::tn_c_s, Earthing::tn_c, Earthing::tt, Earthing::it})
    CHECK(earthing_from_name(name(e)) == e);
  CHECK(earthing_from_name("tncs") == Earthing::tn_c_s);
  CHECK(earthing_from_name(" PME ") == Earthing::tn_c_s);
  CHECK_FALSE(earthing_from_name("TNX"));
  CHECK_FALSE(earthing_from_name(""));
  CHECK(is_tn(Earthing::tn_c_s));
  CHECK_FALSE(is_tn(Earthing::tt));
}
