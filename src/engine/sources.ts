/** A standard, handbook or paper that formulas and values rest on. */
export interface Source {
  /** The short name that is printed: designation with edition. */
  readonly designation: string;
  readonly title: string;
  /** Year of the edition that is meant. */
  readonly edition: string;
  /** Of what was read on the web: the site, and the page where it has an address of its own. */
  readonly address?: string;
  readonly kind: 'standard' | 'handbook' | 'paper' | 'report' | 'page';
  /** Where a newer edition replaces this one. */
  readonly supersededBy?: string;
}

/** Every source that definitions may name. One line a source; the key carries the edition. */
export const SOURCES = {
  'iec-62305-1-2010': {
    designation: 'IEC 62305-1:2010',
    title: 'Protection against lightning - Part 1: General principles',
    edition: '2010',
    kind: 'standard',
    supersededBy: 'IEC 62305-1:2024',
  },
  'iec-62305-3-2010': {
    designation: 'IEC 62305-3:2010',
    title: 'Protection against lightning - Part 3: Physical damage to structures and life hazard',
    edition: '2010',
    kind: 'standard',
    supersededBy: 'IEC 62305-3:2024',
  },
  'iec-62305-4-2010': {
    designation: 'IEC 62305-4:2010',
    title: 'Protection against lightning - Part 4: Electrical and electronic systems within structures',
    edition: '2010',
    kind: 'standard',
    supersededBy: 'IEC 62305-4:2024',
  },
  'iec-60364-5-53-2015': {
    designation: 'IEC 60364-5-53:2015',
    title:
      'Low-voltage electrical installations - Part 5-53: Devices for protection, isolation, switching, control and monitoring (Amendment 2)',
    edition: '2015',
    kind: 'standard',
    supersededBy: 'IEC 60364-5-53:2019',
  },
  'iec-60364-5-53-2002': {
    designation: 'IEC 60364-5-53:2002',
    title:
      'Electrical installations of buildings - Part 5-53: Isolation, switching and control (Amendment 1)',
    edition: '2002',
    kind: 'standard',
    supersededBy: 'IEC 60364-5-53:2015',
  },
  'bs-7671-2008': {
    designation: 'BS 7671:2008',
    title: 'Requirements for electrical installations',
    edition: '2008',
    kind: 'standard',
    supersededBy: 'BS 7671:2018',
  },
  'gb-50057-2010': {
    designation: 'GB 50057-2010',
    title: 'Code for design protection of structures against lightning',
    edition: '2010',
    kind: 'standard',
  },
  'iec-60099-4-2014': {
    designation: 'IEC 60099-4:2014',
    title: 'Surge arresters - Part 4: Metal-oxide surge arresters without gaps for a.c. systems',
    edition: '2014',
    kind: 'standard',
  },
  'iec-60099-5-2018': {
    designation: 'IEC 60099-5:2018',
    title: 'Surge arresters - Part 5: Selection and application recommendations',
    edition: '2018',
    kind: 'standard',
  },
  'iec-60071-2-1996': {
    designation: 'IEC 60071-2:1996',
    title: 'Insulation co-ordination - Part 2: Application guide',
    edition: '1996',
    kind: 'standard',
    supersededBy: 'IEC 60071-2:2018',
  },
  'bs-7430-2011': {
    designation: 'BS 7430:2011',
    title: 'Code of practice for protective earthing of electrical installations',
    edition: '2011',
    kind: 'standard',
  },
  'is-3043-1987': {
    designation: 'IS 3043:1987',
    title: 'Code of practice for earthing',
    edition: '1987',
    kind: 'standard',
    supersededBy: 'IS 3043:2018',
  },
  'is-3043-2018': {
    designation: 'IS 3043:2018',
    title: 'Code of practice for earthing',
    edition: '2018',
    kind: 'standard',
  },
  chakrabarti: {
    designation: 'Chakrabarti, Soni, Gupta, Bhatnagar',
    title: 'A Textbook on Power System Engineering',
    edition: 'edition not stated',
    kind: 'handbook',
  },
  'iec-62305-2-2010': {
    designation: 'IEC 62305-2:2010',
    title: 'Protection against lightning - Part 2: Risk management',
    edition: '2010',
    kind: 'standard',
    supersededBy: 'IEC 62305-2:2024',
  },
  'rosa-1908': {
    designation: 'Rosa, NBS Bulletin 4(2)',
    title: 'Self and mutual inductances of linear conductors',
    edition: '1908',
    kind: 'paper',
  },
  'rosa-grover-1912': {
    designation: 'Rosa, Grover, NBS Scientific Paper 169',
    title: 'Formulas and tables for the calculation of mutual and self-inductance',
    edition: '1912',
    kind: 'paper',
  },
  'mil-hdbk-419a': {
    designation: 'MIL-HDBK-419A',
    title: 'Grounding, bonding and shielding for electronic equipments and facilities',
    edition: '1987',
    kind: 'handbook',
  },
  'iec-62561-1-2012': {
    designation: 'IEC 62561-1:2012',
    title: 'Lightning protection system components - Part 1: Requirements for connection components',
    edition: '2012',
    kind: 'standard',
    supersededBy: 'IEC 62561-1:2023',
  },
  'bs-6651-1999': {
    designation: 'BS 6651:1999',
    title: 'Code of practice for protection of structures against lightning',
    edition: '1999',
    kind: 'standard',
    supersededBy: 'BS EN 62305:2006',
  },
  'is-2309-1989': {
    designation: 'IS 2309:1989',
    title: 'Code of practice for the protection of buildings and allied structures against lightning',
    edition: '1989',
    kind: 'standard',
    supersededBy: 'IS/IEC 62305:2010',
  },
  'nfpa-780-2004': {
    designation: 'NFPA 780 (2004)',
    title: 'Standard for the installation of lightning protection systems',
    edition: '2004',
    kind: 'standard',
    supersededBy: 'NFPA 780 (2008)',
  },
  'nfpa-780-2011': {
    designation: 'NFPA 780 (2011)',
    title: 'Standard for the installation of lightning protection systems',
    edition: '2011',
    kind: 'standard',
    supersededBy: 'NFPA 780 (2014)',
  },
  'gb-t-21714-1-2015': {
    designation: 'GB/T 21714.1-2015',
    title:
      'Protection against lightning - Part 1: General principles (translation of IEC 62305-1:2010; extract)',
    edition: '2015',
    address: 'bzmfxz.com',
    kind: 'standard',
  },
  'iec-62561-8-catalogue-entry': {
    designation: 'Catalogue entry of IEC TS 62561-8',
    title: 'Scope of IEC TS 62561-8, in a catalogue of standards',
    edition: 'undated',
    address: 'standards.globalspec.com/std/10265795',
    kind: 'page',
  },
  'straight-wire-supplement': {
    designation: 'Supplement on the inductance of straight wires',
    title: 'Numeric supplement to a paper on the inductance of straight wires',
    edition: 'undated',
    address: 'github.com/LawrenceGunn/InductiveFieldSupplemental',
    kind: 'page',
  },
  'lightning-examination-problems': {
    designation: 'Examination problems on lightning protection',
    title: 'Problems for the examination of lightning protection engineers, after GB 50057',
    edition: 'undated',
    address: 'gaojiufeng.cn',
    kind: 'page',
  },
  'bs-7430-calculation-sheet': {
    designation: 'Calculation sheet to BS 7430',
    title: 'Earthing, calculation sheet to BS 7430',
    edition: 'undated',
    address: 'scribd.com/document/683021852',
    kind: 'page',
  },
  'bs-6651-calculation-sheet': {
    designation: 'Calculation sheet to BS 6651',
    title: 'Lightning protection, calculation sheet to BS 6651',
    edition: 'undated',
    address: 'scribd.com/document/117483180',
    kind: 'page',
  },
  'bouquegneau-rousseau-2014': {
    designation: 'Bouquegneau and Rousseau (2014)',
    title:
      'Lightning strike-point density for risk assessment, International Colloquium on Lightning and Power Systems, Lyon',
    edition: '2014',
    address: 'scribd.com/document/312014560',
    kind: 'paper',
  },
  'iec-62561-8-2018': {
    designation: 'IEC TS 62561-8:2018',
    title: 'Lightning protection system components - Part 8: Requirements for components for isolated LPS',
    edition: '2018',
    kind: 'standard',
  },
  'iec-61643-11-2011': {
    designation: 'IEC 61643-11:2011',
    title: 'Low-voltage surge protective devices - Part 11: Devices connected to low-voltage power systems',
    edition: '2011',
    kind: 'standard',
  },
  'iec-61643-12-2008': {
    designation: 'IEC 61643-12:2008',
    title: 'Low-voltage surge protective devices - Part 12: Selection and application principles',
    edition: '2008',
    kind: 'standard',
    supersededBy: 'IEC 61643-12:2020',
  },
  'iec-62305-4-2006': {
    designation: 'IEC 62305-4:2006',
    title: 'Protection against lightning - Part 4: Electrical and electronic systems within structures',
    edition: '2006',
    kind: 'standard',
    supersededBy: 'IEC 62305-4:2010',
  },
  'gb-50343-2012': {
    designation: 'GB 50343-2012',
    title: 'Technical code for protection of building electronic information systems against lightning',
    edition: '2012',
    kind: 'standard',
  },
  'ieee-142-2007': {
    designation: 'IEEE Std 142-2007',
    title: 'Recommended practice for grounding of industrial and commercial power systems',
    edition: '2007',
    kind: 'standard',
  },
  'ieee-80-2013': {
    designation: 'IEEE Std 80-2013',
    title: 'Guide for safety in AC substation grounding',
    edition: '2013',
    kind: 'standard',
  },
  'naidu-kamaraju': {
    designation: 'Naidu, Kamaraju',
    title: 'High Voltage Engineering',
    edition: 'edition not stated',
    kind: 'handbook',
  },
  ray: {
    designation: 'Ray',
    title: 'Electrical Power Systems: Concepts, Theory and Practice',
    edition: 'edition not stated',
    kind: 'handbook',
  },
  gonen: {
    designation: 'Gönen',
    title: 'Electric Power Transmission System Engineering',
    edition: 'edition not stated',
    kind: 'handbook',
  },
  'power-system-transients': {
    designation: 'Power System Transients, collection of solved problems',
    title: 'Problems on surges and arresters, pp. 30-51',
    edition: 'edition not stated',
    kind: 'handbook',
  },
  'ieee-c62-22-2009': {
    designation: 'IEEE Std C62.22-2009',
    title: 'Guide for the application of metal-oxide surge arresters for alternating-current systems',
    edition: '2009',
    kind: 'standard',
  },
  'iec-60071-1-2006': {
    designation: 'IEC 60071-1:2006',
    title: 'Insulation co-ordination - Part 1: Definitions, principles and rules',
    edition: '2006',
    kind: 'standard',
    supersededBy: 'IEC 60071-1:2019',
  },
  'iec-60099-4-2009': {
    designation: 'IEC 60099-4:2009',
    title: 'Surge arresters - Part 4: Metal-oxide surge arresters without gaps for a.c. systems',
    edition: '2009',
    kind: 'standard',
    supersededBy: 'IEC 60099-4:2014',
  },
  'iec-ts-60815-1-2008': {
    designation: 'IEC TS 60815-1:2008',
    title:
      'Selection and dimensioning of high-voltage insulators intended for use in polluted conditions - Part 1',
    edition: '2008',
    kind: 'standard',
  },
  'iec-60815-1986': {
    designation: 'IEC 60815:1986',
    title: 'Guide for the selection of insulators in respect of polluted conditions',
    edition: '1986',
    kind: 'standard',
    supersededBy: 'IEC TS 60815-1:2008',
  },
  'iec-62271-1-2007': {
    designation: 'IEC 62271-1:2007',
    title: 'High-voltage switchgear and controlgear - Part 1: Common specifications',
    edition: '2007',
    kind: 'standard',
    supersededBy: 'IEC 62271-1:2017',
  },
  'is-4004': {
    designation: 'IS 4004',
    title: 'Application guide for surge arresters',
    edition: 'edition not stated',
    kind: 'standard',
  },
  'ieee-80-1986': {
    designation: 'IEEE Std 80-1986',
    title: 'Guide for safety in AC substation grounding',
    edition: '1986',
    kind: 'standard',
    supersededBy: 'IEEE Std 80-2013',
  },
  'handbook-electrical-engineering': {
    designation: 'Handbook of Electrical Engineering',
    title: 'Handbook of Electrical Engineering, Appendix H: earthing of substations, pp. 590-595',
    edition: 'edition not stated',
    kind: 'handbook',
  },
  'en-50522-2010': {
    designation: 'EN 50522:2010',
    title: 'Earthing of power installations exceeding 1 kV a.c.',
    edition: '2010',
    kind: 'standard',
    supersededBy: 'EN 50522:2022',
  },
  'iec-62305-3-2006': {
    designation: 'IEC 62305-3:2006',
    title: 'Protection against lightning - Part 3: Physical damage to structures and life hazard',
    edition: '2006',
    kind: 'standard',
    supersededBy: 'IEC 62305-3:2010',
  },
  'cigre-tb-63-1991': {
    designation: 'CIGRE TB 63 (1991)',
    title: 'Guide to procedures for estimating the lightning performance of transmission lines',
    edition: '1991',
    kind: 'report',
  },
  'anderson-eriksson-1980': {
    designation: 'Anderson and Eriksson (1980)',
    title: 'Lightning parameters for engineering application, Electra 69',
    edition: '1980',
    kind: 'paper',
  },
  'installation-guide-wiki': {
    designation: 'Electrical Installation Guide (wiki)',
    title: 'Common characteristics of SPDs according to the installation characteristics',
    edition: 'undated',
    address: 'electrical-installation.org',
    kind: 'page',
  },
  'spd-characteristics-page': {
    designation: 'Characteristics of surge protective devices',
    title: 'Characteristics of surge protective devices, with preferred values of IEC 61643-11',
    edition: 'undated',
    address: 'asutpp.com',
    kind: 'page',
  },
  'spd-current-abstract': {
    designation: 'Abstract on the current of surge protective devices',
    title: 'Abstract of a journal paper on the current of surge protective devices; the paper was not seen',
    edition: 'undated',
    address: 'soolun.net',
    kind: 'paper',
  },
  'lead-length-bulletin': {
    designation: 'Lead length effects, engineering bulletin',
    title: 'Lead length effects',
    edition: 'undated',
    address: 'studylib.net/doc/18539766',
    kind: 'report',
  },
  'substation-equipment-page': {
    designation: 'Substation equipment: surge arresters',
    title: 'Lightning protection, surge arrestors: Indian practice at 11 kV and 33 kV',
    edition: 'undated',
    address: 'expertsmind.com',
    kind: 'page',
  },
  'quick-reference-is-iec-62305-3': {
    designation: 'Quick reference to IS/IEC 62305-3',
    title: 'IS/IEC 62305 Part 3 (2010), quick reference',
    edition: 'undated',
    address: 'infralens.in',
    kind: 'page',
  },
  'iec-60364-5-54-2011': {
    designation: 'IEC 60364-5-54:2011',
    title:
      'Low-voltage electrical installations - Part 5-54: Earthing arrangements and protective conductors',
    edition: '2011',
    kind: 'standard',
  },
  'ieee-80-2000': {
    designation: 'IEEE Std 80-2000',
    title: 'Guide for safety in AC substation grounding',
    edition: '2000',
    kind: 'standard',
    supersededBy: 'IEEE Std 80-2013',
  },
  'short-circuit-slides': {
    designation: 'Lecture slides on permissible short-circuit currents',
    title: 'Calculation of thermally permissible short-circuit current, after IEC 60949 and IEC 60364-5-54',
    edition: 'undated',
    address: 'studylib.net/doc/25320408',
    kind: 'page',
  },
  'ieee-81-2012': {
    designation: 'IEEE Std 81-2012',
    title:
      'Guide for measuring earth resistivity, ground impedance, and earth surface potentials of a grounding system',
    edition: '2012',
    kind: 'standard',
  },
  'sunde-1949': {
    designation: 'Sunde (1949)',
    title: 'Earth conduction effects in transmission systems',
    edition: '1949',
    kind: 'handbook',
  },
  'iec-60364-4-44-2018': {
    designation: 'IEC 60364-4-44:2007+AMD1:2015+AMD2:2018',
    title:
      'Low-voltage electrical installations - Part 4-44: Protection against voltage disturbances and electromagnetic disturbances',
    edition: '2018',
    kind: 'standard',
  },
  'iec-60364-4-44-2007': {
    designation: 'IEC 60364-4-44:2007',
    title:
      'Low-voltage electrical installations - Part 4-44: Protection against voltage disturbances and electromagnetic disturbances',
    edition: '2007',
    kind: 'standard',
    supersededBy: 'IEC 60364-4-44:2007+AMD1:2015+AMD2:2018',
  },
  'bs-7671-2018': {
    designation: 'BS 7671:2018',
    title: 'Requirements for electrical installations',
    edition: '2018',
    kind: 'standard',
  },
  'utility-connection-questions': {
    designation: 'Questions on new connections, a network operator',
    title: 'Frequently asked questions on connections: information for the risk assessment of section 443',
    edition: 'undated',
    address: 'videos.nienetworks.co.uk',
    kind: 'page',
  },
  'risk-level-page': {
    designation: 'Page on the calculated risk level',
    title: 'Calculated risk level after IEC 60364-4-44, with Table 443.1',
    edition: 'undated',
    address: 'asutpp.com',
    kind: 'page',
  },
  'cired-2001-round-table': {
    designation: 'CIRED 2001, round table on neutral earthing',
    title: 'Round table on neutral earthing in low-voltage networks, notations after HD 637 S1',
    edition: '2001',
    address: 'studylib.net/doc/25571616',
    kind: 'paper',
  },
  'hd-637-s1-1999': {
    designation: 'HD 637 S1:1999',
    title: 'Power installations exceeding 1 kV a.c.',
    edition: '1999',
    kind: 'standard',
    supersededBy: 'EN 50522:2010',
  },
  'iec-60364-7-712-2017': {
    designation: 'IEC 60364-7-712:2017',
    title:
      'Low-voltage electrical installations - Part 7-712: Solar photovoltaic (PV) power supply installations',
    edition: '2017',
    kind: 'standard',
    supersededBy: 'IEC 60364-7-712:2025',
  },
  'iec-61643-32-2017': {
    designation: 'IEC 61643-32:2017',
    title:
      'Low-voltage surge protective devices - Part 32: Surge protective devices connected to the d.c. side of photovoltaic installations - Selection and application principles',
    edition: '2017',
    kind: 'standard',
  },
  'ieee-998-1996': {
    designation: 'IEEE Std 998-1996',
    title: 'Guide for direct lightning stroke shielding of substations',
    edition: '1996',
    kind: 'standard',
    supersededBy: 'IEEE Std 998-2012',
  },
  'ieee-1243-1997': {
    designation: 'IEEE Std 1243-1997',
    title: 'Guide for improving the lightning performance of transmission lines',
    edition: '1997',
    kind: 'standard',
  },
  'ieee-575-2014': {
    designation: 'IEEE Std 575-2014',
    title: 'Guide for bonding shields and sheaths of single-conductor power cables rated 5 kV through 500 kV',
    edition: '2014',
    kind: 'standard',
  },
  'iec-60364-6-2016': {
    designation: 'IEC 60364-6:2016',
    title: 'Low-voltage electrical installations - Part 6: Verification',
    edition: '2016',
    kind: 'standard',
  },
} as const satisfies Readonly<Record<string, Source>>;

export type SourceKey = keyof typeof SOURCES;
