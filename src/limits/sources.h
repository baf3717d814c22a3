#pragma once
#include <string_view>

// Where the values of this layer were read, each named once. Nothing is cited here that was not
// read; a number of a table or regulation that no source prints carries "(number from memory)".

namespace ohmleaf::limits::cite {

inline constexpr std::string_view kMemory = "from memory";

// Zs
inline constexpr std::string_view kBreakerFormula =
    "formula Zs = U0 × Cmin ÷ Ia (the-regs.co.uk/blog/?p=215); BS 7671 Table 41.3 (number from "
    "memory)";
inline constexpr std::string_view kBreakerB10 =
    "the-regs.co.uk/blog/?p=215 (2018 edition, method and B10 example); BS 7671 Table 41.3 "
    "(number from memory)";
inline constexpr std::string_view kBreakerB32 =
    "18theditionmock.com (B32 = 1.37 Ω) and formula Zs = U0 × Cmin ÷ Ia; BS 7671 Table 41.3 "
    "(number from memory)";
inline constexpr std::string_view kBreaker17th =
    "17th edition tables: Locke 2008, Appendix 3 (pdfcoffee)";
inline constexpr std::string_view kFuse2008 =
    "BS 7671:2008, \"Maximum Ze & Zs Values\" sheet, scribd.com/document/36816780";
inline constexpr std::string_view kFuse2011 =
    "2011 values × 0.8 in the Metrel MI 3000 EasiPLUS manual p57, "
    "easymanua.ls/metrel/easiplus-mi-3000/manual?p=57";
inline constexpr std::string_view kFuse18th =
    "BS 7671:2018 Tables 41.2 to 41.4 (maxzs.co.uk, maximum permitted Zs)";
inline constexpr std::string_view kBs883C100 =
    "BS 7671:2018 Table 41.4, the-regs.co.uk/blog/?p=499";
inline constexpr std::string_view kEightyPercent =
    "80 % guide: 0.8 = 1 ÷ 1.25 = 0.96 ÷ 1.20 (electriciansforums.net 199276)";
inline constexpr std::string_view kInstantaneous =
    "; operation at this time from memory (instantaneous, within 0.1 s)";
inline constexpr std::string_view kTemperature =
    "factor 1 + 0.004 (T − 20) (electriciansforums.net 199276)";

// Disconnection
inline constexpr std::string_view kTable411 =
    "BS 7671 Table 41.1 (transcript, ericmark.talktalk.net/41-1.html)";
inline constexpr std::string_view kScope18th =
    "; scope: engx.theiet.org/f/wiring-and-regulations/22739";
inline constexpr std::string_view kDistributionTn =
    "BS 7671 411.3.2.3 (the-regs.co.uk/blog/?p=245)";
inline constexpr std::string_view kDistributionTt =
    "BS 7671 411.3.2.4 (the-regs.co.uk/blog/?p=245)";

// RCDs
inline constexpr std::string_view kRcdZs = "50 V ÷ IΔn; Kewtech KT64 manual p27 (easymanua.ls)";
inline constexpr std::string_view kRcdZsFormula =
    "formula 50 V ÷ IΔn (electriciansforums.net 66428)";
inline constexpr std::string_view kElectrode =
    "Linsley, Basic Electrical Installation Work, "
    "zdroje.elektrika.cz/book/basic-electrical-installation-work p369";
inline constexpr std::string_view kRcdProduct = "BS EN 61008/61009 (Benning IT120B manual p32)";
inline constexpr std::string_view kRcdOld =
    "BS 4293 / BS 7288 (trade article on RCD testing, about 2008)";
inline constexpr std::string_view kRcdFiveTimes =
    "BS 7671 643.8 before A2 (engx.theiet.org 21204, 20883)";
inline constexpr std::string_view kRcdA2 =
    "BS 7671 643.7/643.8 from A2:2022 (engx.theiet.org 28337; Wiring Matters 91, July 2022, for "
    "the method; 300 ms for BS EN 61008/61009 in Benning IT120B manual p32, that A2 asks for it "
    "in its Table 3A from memory)";
inline constexpr std::string_view kRcdA2Delayed = "BS 7671 from A2:2022, Table 3A, from memory";

// Conductors
inline constexpr std::string_view kIec60228 =
    "IEC 60228 class 1 and 2, plain copper (kabelmetal-indonesia.com tables; "
    "mycableengineering.com)";
inline constexpr std::string_view kIec60228Other =
    "IEC 60228 (uecables.com class 2/5 table; mycableengineering.com; battcables H07ZZ-F)";
inline constexpr std::string_view kLocke =
    "Locke, Guide to the Wiring Regulations, Appendix 4, scribd.com/document/455845828";
inline constexpr std::string_view kLockeSum =
    "computed from the published per-conductor values (Locke, Appendix 4; IEC 60228)";
inline constexpr std::string_view kRingFormula =
    "ring arithmetic: machineryequipmentonline.com (ring continuity); scribd 72915510";
inline constexpr std::string_view kRingTolerance =
    "r1 and rn agree within 0.05 Ω; no published source read";

// Insulation
inline constexpr std::string_view kInsulation500 =
    "BS 7671 Table 64 (Electrical Wholesaler, May 2023, yudu p25; scolmore.com article)";
inline constexpr std::string_view kInsulationMemory = "BS 7671 Table 64, from memory";
inline constexpr std::string_view kInsulationTable =
    "BS 7671 Table 64 (apprentice's look-up tables; IEC 60364-6 table 6A quoted at newbe.dev)";
inline constexpr std::string_view kInsulationConnected =
    "250 V with electronics connected, limit stays 1 MΩ (2010 trade blog quoting the note to "
    "Table 61)";
inline constexpr std::string_view kInsulationLook =
    "Linsley, Basic Electrical Installation Work, "
    "zdroje.elektrika.cz/book/basic-electrical-installation-work p367";

// Supply, earthing, bonding
inline constexpr std::string_view kSupplyZe =
    "typical maximum declared by a distributor (SSEN ForContractors page)";
inline constexpr std::string_view kFaultCurrent =
    "formula Ipf = U0 ÷ Z (method: the-regs.co.uk/blog/?p=240)";
inline constexpr std::string_view kBreakingCapacity =
    "the device's rated short-circuit capacity, as entered; BS 7671 434.5.1 (number from memory)";
inline constexpr std::string_view kBonding = "the-regs.co.uk/blog/?p=280";
inline constexpr std::string_view kTable547 = "BS 7671 Table 54.7 (the-regs.co.uk/blog/?p=280)";
inline constexpr std::string_view kTable548 = "BS 7671 Table 54.8 (the-regs.co.uk/blog/?p=280)";
inline constexpr std::string_view kBondingLength =
    "0.05 Ω is guidance, not a limit: compare with length × resistance per metre (engx.theiet.org "
    "29227)";
inline constexpr std::string_view kAdiabatic =
    "adiabatic equation S = √(I²t) ÷ k, BS 7671 543.1.3 (number from memory)";

// Load side
inline constexpr std::string_view kLookUp =
    "apprentice's look-up tables after BS 7671, On-Site Guide and GN3 (public repository)";
inline constexpr std::string_view k4d5 =
    "BS 7671 Table 4D5 (Doncaster Cables technical tables, as its cable calculator holds them)";
inline constexpr std::string_view k4d1a =
    "BS 7671 Table 4D1A (transcript, scribd.com/document/410228059)";
inline constexpr std::string_view k4d1b =
    "BS 7671 Table 4D1B (Electric Center catalogue 2025/26 p489)";
inline constexpr std::string_view kAmbient =
    "BS 7671 Table 4B1 (Correction factors for sizing of cable conductors, Table 1, "
    "scribd.com/document/324896274)";
inline constexpr std::string_view kThermalInsulation =
    "BS 7671 Table 52.2 (apprentice's look-up tables; 100 mm: diynot.com 443320)";
inline constexpr std::string_view kTable4c1 =
    "BS 7671:2008 Table 4C1 (Locke, Guide to the Wiring Regulations, fliphtml5.com/glisk/snup p60)";
inline constexpr std::string_view kSemiEnclosed =
    "0.725 (IEE wiring regulations, basic summary, scribd.com/document/431807920); a forum prints "
    "0.735 (diybanter 2260408): the smaller stands";
inline constexpr std::string_view kCoordination =
    "Ib ≤ In ≤ Iz, BS 7671 433.1.1 (rule and number from memory)";
inline constexpr std::string_view k4d2a =
    "BS 7671 Table 4D2A (Doncaster Cables technical tables, as its cable calculator holds them)";
inline constexpr std::string_view k4d2b =
    "BS 7671 Table 4D2B (Doncaster Cables technical tables, as its cable calculator holds them)";
inline constexpr std::string_view k4d2bMemory = "BS 7671 Table 4D2B, z value from memory";
inline constexpr std::string_view kVoltDropFormula = "volt drop = (mV/A/m) × Ib × L ÷ 1000";
inline constexpr std::string_view kVoltDropLimit =
    "3 % lighting, 5 % other uses, public supply (totalskills.co.uk guide; Linsley, Basic "
    "Electrical Installation Work)";

}  // namespace ohmleaf::limits::cite
