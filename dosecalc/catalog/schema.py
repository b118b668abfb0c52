"""What a data or recipe file may contain: one pydantic model per kind of file.

Quantities are text ("1.5 lb/acre"), read by ``dosecalc.units``; nothing here
knows what they mean. Every model is strict, frozen and refuses extra keys, so
a misspelt key is an error with a place and never a silent default.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=60)]
Text = Annotated[str, StringConstraints(min_length=1, max_length=2000)]
Count = Annotated[int, Field(gt=0, le=1000)]
Amount = Annotated[str, StringConstraints(min_length=1, max_length=80)]
Nutrient = Literal[
    "N", "P", "K", "Ca", "Mg", "S", "B", "Cu", "Fe", "Mn", "Mo", "Zn", "Na", "Cl", "Co", "Se", "Si"
]  # fmt: skip
Grade = Literal[
    "regulator", "standard", "journal", "extension",  # strong: may judge alone
    "reference", "trade", "seller", "hobby", "memory", "practice",  # weak: at most a caution
]  # fmt: skip
Form = Literal["powder", "granules", "crystals", "flakes", "liquid", "suspension", "bulk"]
System = Literal["us", "imperial", "metric", "australian"]
Placement = Literal[
    "broadcast", "band", "seed-row", "row-drench", "soil-drench", "foliar", "mulch",
    "mixed-in", "planting-hole", "fertigation", "irrigation", "dormant-spray", "dip",
]  # fmt: skip
Region = Literal["EU", "US", "UK", "CA", "AU", "NZ"]
Setting = Literal["field", "garden", "turf", "container", "tree", "greenhouse", "ornamental"]
Basis = Literal["row length", "area", "spray volume", "plant", "pot", "medium volume", "layer"]
Hazard = Literal[
    "eye-damage", "eye-irritation", "skin-irritation", "skin-burns", "dust", "swallowing",
    "fertility", "aquatic", "bees", "oxidiser", "pathogens", "mould-spores", "slippery",
    "caustic", "ammonia-gas", "copper-livestock", "corrosive-metal", "plant-burn", "children",
]  # fmt: skip

Trait = Literal[
    "borate", "calcium", "magnesium", "sulfate", "phosphate", "carbonate", "bicarbonate",
    "chloride", "nitrate", "ammonium", "urea", "acid", "alkaline", "lime", "gypsum", "copper",
    "zinc", "iron", "manganese", "molybdate", "chelate", "sulfur", "lime-sulfur", "oil", "soap",
    "detergent", "salt", "silicate", "herbicide", "raw-manure", "composted-manure", "compost",
    "mulch", "growing-medium", "wood-ash", "organic-meal", "complete-feed", "liquid-feed", "kelp",
    "solvent",
]  # fmt: skip


class FileModel(BaseModel):
    """Strict, frozen, closed: the shared behaviour of every model of this module."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid")


class SourceFile(FileModel):
    """``data/sources/<id>.toml``: where a fact was read, and how far it may be trusted."""

    title: Text
    publisher: Text
    grade: Grade
    year: Annotated[int, Field(ge=1800, le=2100)] | None = None
    undated: bool = False  # say so when the page carries no year
    url: Text | None = None
    url_withheld: Text | None = None  # why no address is given
    read: Text | None = None  # the day it was read, ISO


class AnalysisEntry(FileModel):
    """One nutrient of a material without a formula."""

    nutrient: Literal[
        "N", "P2O5", "P", "K2O", "K", "Ca", "CaO", "Mg", "MgO", "S", "SO3",
        "B", "Cu", "Fe", "Mn", "Mo", "Zn", "Na", "Cl", "Co", "Se", "Si",
    ]  # fmt: skip
    percent: Amount | None = None  # "46"; a number as text, so that its digits are kept
    low: Amount | None = None
    high: Amount | None = None
    basis: Literal["w/w", "w/v"] = "w/w"
    state: Literal["as-is", "dry"] = "as-is"
    kind: Literal["minimum", "typical"]
    source: Id
    caveat: Text | None = None


class SeenDensity(FileModel):
    """A density as some source printed it."""

    printed: Text
    value: Amount
    source: Id
    used: bool = True
    caveat: Text | None = None


class DensityEntry(FileModel):
    """Mass per volume of the material as it is handled: a span, and how it was chosen."""

    low: Amount
    likely: Amount
    high: Amount
    how: Text
    seen: tuple[SeenDensity, ...] = ()


class SolubilityEntry(FileModel):
    """Grams of the material AS NAMED (its own hydrate) per litre of water."""

    at: Amount  # temperature
    value: Amount
    printed: Text
    source: Id
    used: bool = True
    caveat: Text | None = None


class HazardEntry(FileModel):
    """A closed hazard key; its sentences stand in the message catalogue."""

    key: Hazard
    source: Id
    caveat: Text | None = None


class MaterialFile(FileModel):
    """``data/materials/<id>.toml``."""

    name: Text
    also: tuple[Text, ...] = ()
    form: Form
    traits: tuple[Trait, ...] = ()  # what compatibility rules and limits speak of
    formula: Text | None = None  # with hydrate: "MgSO4.7H2O"
    purity: Amount | None = None  # percent of the formula in the material as sold, default 100
    analysis: tuple[AnalysisEntry, ...] = ()
    moisture: Amount | None = None  # percent, where an analysis is on dry matter
    by_weight: bool = False  # boron, copper, zinc, molybdenum, pesticides: the narrow window
    density: DensityEntry | None = None
    solubility: tuple[SolubilityEntry, ...] = ()
    insoluble: Text | None = None  # says what happens instead: "makes a suspension: keep it moving"
    suspends: bool = False  # made to be stirred into water and kept moving, as wettable powders are
    hazard: tuple[HazardEntry, ...] = ()
    caveat: Text | None = None


class IngredientEntry(FileModel):
    """One material of a recipe statement and how much of it."""

    material: Id
    amount: Amount  # a mass, a volume, a depth (layer), or a percent / ratio of spray volume
    to: Amount | None = None  # upper end where the recipe leaves a choice ("1 to 2 tbsp")
    nutrient: Nutrient | Literal["P2O5", "K2O"] | None = None  # the amount counts this nutrient
    role: Literal["active", "adjuvant", "feed", "amendment", "mulch", "carrier"]


class WaterEntry(FileModel):
    """Water of a statement: a strength that must be kept, or a mere vehicle."""

    amount: Amount
    need: Literal["strength", "vehicle"]


class StatementEntry(FileModel):
    """One complete wording of the rate, in one measure system."""

    measures: System | None = None  # needed as soon as a gallon, cup, spoon or ton is written
    basis: Basis
    per: Amount  # "5 m", "100 sq ft", "1 gal", "1 plant", "1 pot"
    ingredient: Annotated[tuple[IngredientEntry, ...], Field(min_length=1)]
    water: WaterEntry | None = None


class RepeatEntry(FileModel):
    """How soon and how often at most."""

    interval: Amount | None = None
    most: Count | None = None
    window: Literal["crop", "season", "year"] | None = None
    source: Id | None = None


class RecipeFile(FileModel):
    """``recipes/<id>.toml``."""

    name: Text
    purpose: Text
    how: Literal[
        "drench", "foliar spray", "dormant spray", "broadcast", "band", "side-dress", "work in",
        "mulch", "fertigation", "mix in", "planting hole", "dust",
    ]  # fmt: skip
    placement: Placement
    setting: tuple[Setting, ...] = ()
    crops: tuple[Text, ...] = ()
    not_on: tuple[Text, ...] = ()
    when: Text | None = None
    statement: Annotated[tuple[StatementEntry, ...], Field(min_length=1)]
    repeat: RepeatEntry | None = None
    order: tuple[Text, ...] = ()
    cautions: tuple[Text, ...] = ()
    source: tuple[Id, ...] = ()
    practice: Literal["common practice, no source"] | None = None
    caveat: Text | None = None


class CropFile(FileModel):
    """One entry of ``data/crops.toml``."""

    name: Text
    also: tuple[Text, ...] = ()
    classes: tuple[Id, ...] = ()
    kinds: tuple[Id, ...] = ()  # a general name is judged as the most sensitive of its kinds


class LimitEntry(FileModel):
    """One limit: a figure over a basis within a window, and where it holds."""

    id: Id
    of: Text  # a nutrient ("B"), a material id, or "trait:oil"
    per: Literal[
        "field area", "band area", "row length", "solution", "plant", "medium volume",
        "irrigation water", "depth", "count",
    ]  # fmt: skip
    limit: Amount
    edge: Literal["at most", "below"]
    window: Literal["application", "crop", "season", "calendar year", "rolling years", "lifetime"]
    years: Count | None = None  # with rolling years
    crops: tuple[Id, ...] | Literal["any"]  # crop ids or class ids
    not_crops: tuple[Id, ...] = ()
    setting: tuple[Setting, ...] | Literal["any"]
    placement: tuple[Placement, ...] | Literal["any"]
    phase: Literal["any", "establishing", "yearly"] = "any"
    region: Literal["any", Region] = "any"
    law: bool = False
    direction: Literal["upper", "lower"] = "upper"  # lower: the least useful rate, a note
    judges: bool
    not_judging: Text | None = None  # the written reason where judges = false
    printed: Text
    source: Id
    why: Text
    caveat: Text | None = None


class LimitsFile(FileModel):
    """``data/limits/<what>.toml``."""

    limit: tuple[LimitEntry, ...]


class UsualEntry(FileModel):
    """The highest rate that was found published for something in some places: no limit."""

    id: Id
    of: Text  # a nutrient ("N"), a material id, or "trait:oil"
    carriers: tuple[Trait, ...] = ()  # a nutrient is counted from materials of these traits only
    dry: bool = False  # the figure is of dry stuff: a liquid is mostly water and is not counted
    per: Literal["field area", "row length", "solution", "plant", "medium volume", "depth"]
    rate: Amount
    window: Literal["application", "crop", "season", "calendar year"]
    setting: tuple[Setting, ...] | Literal["any"]
    placement: tuple[Placement, ...] | Literal["any"]
    printed: Text
    source: Id
    why: Text  # what the rate is for, and what is given more commonly
    caveat: Text | None = None


class UsualFile(FileModel):
    """``data/usual/<what>.toml``."""

    rate: tuple[UsualEntry, ...]


class ShareEntry(FileModel):
    """How much of a nutrient in a material feeds a crop, and in which year."""

    id: Id
    of: Text  # a material id or "trait:compost"
    nutrient: Literal["N", "P", "K"]
    share_of: Literal["total", "organic", "rest"]  # rest: of what is left, every later year
    from_year: Count = 1
    to_year: Count | None = None  # where it is a sum over several years
    low: Amount  # percent
    likely: Amount | None = None  # the middle where it is not given
    high: Amount | None = None
    used: bool = False  # whether a goal is worked out with it
    printed: Text
    source: Id
    caveat: Text | None = None


class SaltEntry(FileModel):
    """From which conductivity on a material is called salty."""

    id: Id
    of: Text
    above: Amount  # mS/cm
    printed: Text
    source: Id
    why: Text
    caveat: Text | None = None


class AvailabilityFile(FileModel):
    """``data/availability/<what>.toml``."""

    share: tuple[ShareEntry, ...] = ()
    salt: tuple[SaltEntry, ...] = ()


class SeedSeen(FileModel):
    """How many seeds a weight holds, as some source printed it."""

    count: Amount  # "1500 seeds/oz"
    printed: Text
    source: Id


class RowRateEntry(FileModel):
    """A published weight of seed for a length of row."""

    rate: Amount
    printed: Text
    source: Id


class SeedEntry(FileModel):
    """One kind of seed."""

    id: Id
    name: Text
    also: tuple[Text, ...] = ()
    seen: Annotated[tuple[SeedSeen, ...], Field(min_length=1)]  # the first is reckoned with
    row: tuple[RowRateEntry, ...] = ()
    caveat: Text | None = None


class PublishedRateEntry(FileModel):
    """A published rate of an inoculant or a live control: shown beside, never judging."""

    id: Id
    of: Text
    also: tuple[Text, ...] = ()
    printed: Text
    source: Id
    caveat: Text | None = None


class SowingFile(FileModel):
    """``data/sowing/<what>.toml``."""

    seed: tuple[SeedEntry, ...] = ()
    rate: tuple[PublishedRateEntry, ...] = ()


class PairEntry(FileModel):
    """Two things that must not meet, and where."""

    id: Id
    a: Text  # a material id or "trait:calcium"
    b: Text
    where: Literal["tank", "stock tank", "days apart", "same ground"]
    days: Count | None = None  # with "days apart"
    first: Literal["a", "b", "either"] = "either"  # which came first, where the order matters
    level: Literal["stop", "caution"]
    unless: Text | None = None  # the exception the source makes, in words
    region: Literal["any", Region] = "any"
    crops: tuple[Id, ...] | Literal["any"] = "any"
    printed: Text
    source: Id
    why: Text
    caveat: Text | None = None


class WeatherEntry(FileModel):
    """A condition of weather or timing under which a material must not be used."""

    id: Id
    of: Text  # a material id or "trait:oil"
    placement: tuple[Placement, ...] | Literal["any"]
    quantity: Literal[
        "temperature", "humidity", "wind", "hours to rain", "hours to dry", "in bloom",
        "frost", "sun", "drought",
    ]  # fmt: skip
    edge: Literal["at least", "above", "at most", "below", "is"]
    value: Amount | None = None  # "32 C", "90 %"; none where the quantity is yes or no
    level: Literal["stop", "caution"]
    printed: Text
    source: Id
    why: Text


class WaitEntry(FileModel):
    """An entry, harvest or repeat wait of a material where no label was typed."""

    id: Id
    of: Text
    what: Literal["re-entry", "harvest", "repeat"]
    wait: Amount  # "24 h", "14 day"
    region: Literal["any", Region] = "any"
    crops: tuple[Id, ...] | Literal["any"] = "any"
    placement: tuple[Placement, ...] | Literal["any"] = "any"
    condition: Text | None = None  # "edible part touches the soil"
    printed: Text
    source: Id
    why: Text


class LawEntry(FileModel):
    """What a region's law says of using a material for a purpose; deferring to the authority."""

    id: Id
    of: Text
    region: Region
    use: Literal["plant protection", "fertiliser", "organic production", "any"]
    level: Literal["stop", "caution", "note"]
    as_of: Text  # the date of the state of the law that the source describes
    printed: Text
    source: Id
    why: Text


class RescueEntry(FileModel):
    """What may be done after too much was applied, only where a source says so."""

    id: Id
    of: Text
    say: Text
    only_if: Text | None = None
    never: Text | None = None
    source: Id


class RulesFile(FileModel):
    """``data/rules/<what>.toml``: everything that is not a figure over a basis."""

    pair: tuple[PairEntry, ...] = ()
    weather: tuple[WeatherEntry, ...] = ()
    wait: tuple[WaitEntry, ...] = ()
    law: tuple[LawEntry, ...] = ()
    rescue: tuple[RescueEntry, ...] = ()


class CropsFile(FileModel):
    """``data/crops.toml``: crops by id."""

    crop: dict[Id, CropFile]


class LabelFile(FileModel):
    """What a person typed from a product's label; it judges before anything of ours."""

    product: Text
    material: Id
    lowest: Amount | None = None  # "2 g/L", "1 kg/ha", "5 mL/plant"
    highest: Amount | None = None
    least_water: Amount | None = None  # "200 L/ha"
    most_season: Amount | None = None  # "6 kg/ha"
    times: Count | None = None  # applications in a season
    interval: Amount | None = None
    harvest_wait: Amount | None = None
    entry_wait: Amount | None = None
    crops: tuple[Text, ...] = ()  # allowed on these only
    not_on: tuple[Text, ...] = ()


class RecordFieldEntry(FileModel):
    """One thing that a rule asks to be written down, and what of an entry answers it."""

    name: Text
    asks: Text
    answers: tuple[
        Literal[
            "day", "place", "crop", "who", "registration", "materials", "amounts", "ground",
            "dose", "stage number", "re-entry wait",
        ],
        ...,
    ] = ()  # fmt: skip
    also: Text | None = None  # the word of `dosecalc log --also`
    instead: Text | None = None  # what to do where nothing of an entry answers it
    when: Text | None = None  # where it is asked for only sometimes
    source: Id
    caveat: Text | None = None


class RecordDutyEntry(FileModel):
    """A deadline or a keeping time: no field of a record answers it."""

    name: Text
    asks: Text
    source: Id


class RecordRuleEntry(FileModel):
    """What one rule asks to be written down of the applications it is about."""

    id: Id
    name: Text
    region: Region
    about: Literal["plant protection", "any input", "raw manure"]
    asked: Literal["by region", "when named"]  # when named: nothing of ours tells whom it binds
    organic: bool = False  # binds those who grow to organic rules
    who: Text
    field: Annotated[tuple[RecordFieldEntry, ...], Field(min_length=1)]
    duty: tuple[RecordDutyEntry, ...] = ()


class PlantProtection(FileModel):
    """Exceptions in what counts as plant protection; see ``catalog.records``."""

    only_where_named: tuple[Text, ...]
    why: Text


class RecordsFile(FileModel):
    """``data/records.toml``."""

    plant_protection: PlantProtection
    rule: tuple[RecordRuleEntry, ...]


class PoisonLine(FileModel):
    """Whom to call in one region."""

    region: Region
    who: Text
    number: Text
    source: Id


class PoisonFile(FileModel):
    """``data/poison.toml``."""

    line: tuple[PoisonLine, ...]


class GardenTools(FileModel):
    """``[tools]`` of a garden file."""

    my_spoons: System | None = None
    spoons: Amount | None = None
    scale: Amount | None = None
    syringe: Amount | None = None
    jug: Amount | None = None
    weighed: tuple[Text, ...] = ()


class GardenSprayer(FileModel):
    """``[sprayer.<name>]`` of a garden file: a sprayer, can or tank."""

    size: Amount
    output: Amount | None = None  # per area, from a calibration
    along_row: Amount | None = None  # per length of row, from a calibration
    spread: Text | None = None  # how far repeated catches lay apart
    held: Text | None = None  # what it last held


class GardenBed(FileModel):
    """``[bed.<name>]`` of a garden file: one place of the garden."""

    row: Amount | None = None
    rows: Count | None = None
    row_spacing: Amount | None = None
    plant_spacing: Amount | None = None
    bed: Amount | None = None
    path: Amount | None = None
    rows_per_bed: Count | None = None
    beds: Count | None = None
    area: Amount | None = None
    shape: Text | None = None
    band: Amount | None = None
    plants: Count | None = None
    pots: Count | None = None
    pot_size: Amount | None = None
    medium_volume: Amount | None = None
    crop: Text | None = None
    setting: Setting | None = None
    phase: Literal["establishing", "yearly"] | None = None


class GardenProduct(FileModel):
    """``[product.<name>]`` of a garden file: a product on hand, with its own analysis."""

    name: Text | None = None
    like: Id | None = None  # a material whose density, hazards, limits and rules it shares
    analysis: Amount | None = None  # "5-10-10"
    counts: Literal["oxide", "element"] | None = None  # what P and K of the analysis count
    holds: tuple[Amount, ...] = ()  # further nutrients: "2 % Ca", "14 g/kg N", "60 g/L K2O"
    basis: Literal["w/w", "w/v"] | None = None  # of a percent; a liquid must say
    state: Literal["as-is", "dry"] | None = None  # a bulk material must say
    moisture: Amount | None = None
    form: Form | None = None
    density: Amount | None = None
    traits: tuple[Trait, ...] = ()
    first_year: Amount | None = None  # percent of its nitrogen that feeds the first crop
    pack: Amount | None = None
    price: Amount | None = None  # of one pack, in the money of the garden


class GardenFile(FileModel):
    """``garden.toml``: what a grower would otherwise type every time."""

    name: Text | None = None
    region: Region | None = None
    organic: bool = False
    tools: GardenTools | None = None
    sprayer: dict[Id, GardenSprayer] = {}
    bed: dict[Id, GardenBed] = {}
    product: dict[Id, GardenProduct] = {}
    label: tuple[Text, ...] = ()  # label files, beside this one


Extractant = Literal[
    "Olsen", "Mehlich-1", "Mehlich-3", "Bray-1", "Bray-2", "Morgan", "modified Morgan", "AB-DTPA",
    "resin", "ammonium acetate", "ammonium nitrate", "CAL", "DL", "DTPA", "hot water", "water",
    "KCl", "CaCl2", "saturated paste",
]  # fmt: skip
SoilWord = Literal[
    "N", "P", "P2O5", "K", "K2O", "Ca", "CaO", "Mg", "MgO", "S", "SO3", "B", "Cu", "Fe", "Mn", "Mo",
    "Zn", "Na", "Cl",
]  # fmt: skip


class SoilFigure(FileModel):
    """``[[figure]]`` of a soil report: one nutrient as the laboratory printed it."""

    nutrient: SoilWord
    value: Amount  # with its unit: "23 mg/kg", "46 lb/acre", "2 index"
    extractant: Extractant | None = None  # must be there; its lack is refused in words


class SoilFile(FileModel):
    """A soil report: what the sheet of a laboratory says, figure by figure."""

    lab: Text | None = None
    day: Amount | None = None
    bed: Text | None = None
    depth: Amount | None = None
    ph: Amount | None = None
    ph_in: Literal["water", "CaCl2", "KCl"] | None = None
    organic_matter: Amount | None = None
    figure: Annotated[tuple[SoilFigure, ...], Field(min_length=1)]


class SoilBand(FileModel):
    """One step of a scale: everything below a figure that no step before it took."""

    below: Amount | None = None
    word: Text
    much: bool = False  # the scale calls it more than a crop can use


class SoilScale(FileModel):
    """``[[scale]]``: what a publisher calls the figures of one extractant."""

    id: Id
    nutrient: SoilWord
    extractant: Extractant
    unit: Literal["mg/kg", "mg/L", "lb/acre", "kg/ha"]
    name: Text
    band: Annotated[tuple[SoilBand, ...], Field(min_length=2)]
    printed: Text
    source: Id
    caveat: Text | None = None


class SoilLevelsFile(FileModel):
    """``data/soil-levels.toml``."""

    scale: tuple[SoilScale, ...]


class CreditEntry(FileModel):
    """``[[credit]]``: what an earlier crop or manure leaves for the next crop."""

    id: Id
    name: Text
    nutrient: SoilWord
    per: Literal["area", "spread"]  # spread: the figures are a share of what was spread
    low: Amount
    high: Amount
    scope: Text
    printed: Text
    source: Id
    caveat: Text | None = None


class CreditsFile(FileModel):
    """``data/credits.toml``."""

    credit: tuple[CreditEntry, ...]


class ExcessEntry(FileModel):
    """``[[excess]]``: what too much of one nutrient does; the first harms first."""

    of: Nutrient
    always: bool  # counts even where none was asked for
    why: Text
    source: Id


class ExcessFile(FileModel):
    """``data/excess.toml``: the order in which a plan keeps an excess down."""

    excess: tuple[ExcessEntry, ...]


class SplitEntry(FileModel):
    """``[[split]]``: when a publisher gives nitrogen again to a standing crop."""

    id: Id
    crops: Annotated[tuple[Id, ...], Field(min_length=1)]
    when: Text
    days: Count | None = None  # after the first dressing, where it is counted from planting
    printed: Text
    source: Id
    caveat: Text | None = None


class SplitsFile(FileModel):
    """``data/splits.toml``."""

    split: tuple[SplitEntry, ...]
