"""One tag with its ambient: the words a reader fetches, and the calibrated pressure they stand for."""

from fractions import Fraction

from calibration import BASE as CALIBRATION_BASE
from compensation import NOMINAL, PA_PER_MMHG, absolute, decimal, gauge, root
from frames import BASE as FRAME_BASE
from header import BASE as HEADER_BASE
from memory_tables import CALIBRATION, COUNTERS, FRAME, HEADER
from record import pack

AMBIENT = {"pressure_raw": 12_969_600, "expanded_uncertainty_pa": 12}  # 1013.25 hPa
COUNTS = pack(
    COUNTERS, {"reuse_cycles": 3, "cold_starts": 812, "fruitless_starts": 2, "brown_outs": 41, "frames": 150_233}
)
HEADER_WORDS = pack(HEADER, HEADER_BASE)


# Flags of the frame beside which nobody can say how far the pressure is off: sensor_fault, pressure_at_limit, supply_low.
DOUBTFUL = 1 << 2 | 1 << 3 | 1 << 6


class Scene:
    """One tag: the words of a 32-word Read and of its calibration, with what they hold."""

    def __init__(
        self,
        frame=None,
        calibration=None,
        ambient=AMBIENT,
        header=HEADER_WORDS,
        slot_a=None,
        slot_b=None,
        copy_1=None,
        copy_2=None,
        slot="b",
        copy=1,
    ):
        self.frame = {**FRAME_BASE, **(frame or {})}
        self.calibration = {**CALIBRATION_BASE, **(calibration or {})}
        older = pack(FRAME, {**FRAME_BASE, "sequence": (self.frame["sequence"] - 1) % 65_536, "pressure": 13_600_000})
        newest = pack(FRAME, self.frame)
        a, b = (newest, older) if slot == "a" else (older, newest)
        self.slot = slot
        block = pack(CALIBRATION, self.calibration)
        self.copy = copy
        self.ambient = ambient
        self.user = header + (slot_a or a) + (slot_b or b) + COUNTS
        self.block = (copy_1 or block) + (copy_2 or block)

    def given(self):
        return {"user_words_0_31": self.user.hex(), "user_words_40_71": self.block.hex(), "ambient": self.ambient}

    def expected(self):
        c = self.calibration if self.copy else NOMINAL
        pressure = None if self.frame["pressure"] == 16_777_215 else self.frame["pressure"]
        temperature = None if self.frame["temperature"] == -32_768 else self.frame["temperature"]
        out = {
            "slot": self.slot,
            "calibration_copy": self.copy,
            "absolute_raw": None,
            "gauge_raw": None,
            "gauge_pa": None,
            "gauge_mmhg": None,
            "expanded_uncertainty_pa": None,
            "expanded_uncertainty_mmhg": None,
        }
        if pressure is None:
            return out
        out["absolute_raw"] = absolute(pressure, temperature, c)
        if self.ambient is None:
            return out
        out["gauge_raw"] = gauge(out["absolute_raw"], self.ambient["pressure_raw"], temperature, c)
        if out["gauge_raw"] is None:
            return None
        pascal = Fraction(out["gauge_raw"], 128)
        out["gauge_pa"] = decimal(pascal, 9)
        out["gauge_mmhg"] = decimal(pascal / PA_PER_MMHG, 9)
        parts = [
            self.calibration["expanded_uncertainty"] if self.copy else 65_535,
            self.ambient["expanded_uncertainty_pa"],
        ]
        if parts[0] != 65_535 and parts[1] is not None and self.covered(temperature, pascal):
            square = Fraction(sum(part * part for part in parts))
            out["expanded_uncertainty_pa"] = root(square, 9)
            out["expanded_uncertainty_mmhg"] = root(square / PA_PER_MMHG**2, 9)
        return out

    def covered(self, temperature, pascal):
        """Whether the calibration covered this frame, temperature and load: its uncertainty is stated for those alone."""
        if self.frame["status"] & DOUBTFUL:
            return False
        low, high = (100 * self.calibration[end] for end in ("temperature_low", "temperature_high"))
        return temperature is not None and low <= temperature <= high and pascal <= 100 * self.calibration["span"]
