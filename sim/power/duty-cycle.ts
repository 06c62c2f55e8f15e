/**
 * When the firmware does what, without the firmware: the decisions of ply_step that depend on time and supply, as stints of
 * constant current. A test runs the firmware itself beside it, phase by phase.
 */
import { type LoadDesign, type Phase, type Stint, stintsOf } from "./load.ts";

const BURST_SAMPLES = 25;
const SATURATED = 255;

export class DutyCycle {
  /** Frames committed, and samples given up because the supply was too low or the sensor not ready. */
  frames = 0;
  skipped = 0;
  /** Falls of the supply that the firmware itself saw and counted. */
  brownOuts = 0;
  /** Starts without a frame, as the memory holds them. */
  #storedFruitless = 0;

  readonly #load: LoadDesign;
  readonly #stints: Readonly<Record<Phase, readonly Stint[]>>;
  readonly #shortCheck: readonly Stint[];
  #queue: Stint[] = [];
  /** What becomes true when the stints of the phase have been lived through. */
  #then: (nowS: number) => void = () => undefined;
  #phase: Phase = "cold_start";
  #startS = 0;
  #dueMs = 0;
  #sampleMs = 0;
  #readyS = 0;
  #startCounted = false;
  #fruitless = 0;
  #sinceCounters = 0;
  #sinceBurst = 0;
  #burstSamples = 0;
  #bursting = false;
  #brownOutTold = false;

  constructor(load: LoadDesign) {
    this.#load = load;
    this.#stints = {
      cold_start: stintsOf(load, "cold_start"),
      check_supply: stintsOf(load, "check_supply"),
      start_conversion: stintsOf(load, "start_conversion"),
      read_sensor: stintsOf(load, "read_sensor"),
      seal_frame: stintsOf(load, "seal_frame"),
      commit_frame: stintsOf(load, "commit_frame"),
      commit_counters: stintsOf(load, "commit_counters"),
      commit_burst: stintsOf(load, "commit_burst"),
    };
    this.#shortCheck = stintsOf(load, "check_supply", false);
  }

  /** The supply has come: whatever was going on is forgotten. */
  start(nowS: number): void {
    const { processor } = this.#load;
    this.#queue = [{ activity: "boot", seconds: processor.bootS, currentA: processor.activeA }];
    this.#startS = nowS + processor.bootS;
    this.#then = () => this.#go("cold_start");
    this.#dueMs = 0;
    this.#startCounted = false;
    this.#fruitless = 0;
    this.#sinceCounters = 0;
    this.#sinceBurst = 0;
    this.#burstSamples = 0;
    this.#bursting = false;
    this.#brownOutTold = false;
  }

  /** A start that is behind us: in service at `nowS`, a sample due. For looking at a tag that has been running for long. */
  resume(nowS: number): void {
    this.start(nowS);
    this.#startS = nowS;
    this.#queue = [];
    this.#startCounted = true;
    this.#then = () => this.#go("check_supply");
  }

  /** The next stint from `nowS` on, at which the store's node stands at `supplyV` with the processor running. */
  next(nowS: number, supplyV: number): Stint {
    for (;;) {
      const stint = this.#queue.shift();
      if (stint) return stint;
      this.#then(nowS);
      if (this.#queue.length === 0) this.#do(nowS, Math.floor(supplyV * 1000));
    }
  }

  #go(phase: Phase): void {
    this.#phase = phase;
    this.#then = () => undefined;
  }

  #do(nowS: number, supplyMv: number): void {
    const stints = this.#stints;
    switch (this.#phase) {
      case "cold_start":
        this.#fruitless = this.#storedFruitless;
        this.#live(stints.cold_start, () => this.#go("check_supply"));
        break;
      case "check_supply":
        this.#checkSupply(nowS, supplyMv);
        break;
      case "start_conversion":
        this.#sampleMs = this.#nowMs(nowS);
        this.#live(stints.start_conversion, (s) => {
          this.#readyS = s + this.#load.sensor.conversionS;
          this.#go("read_sensor");
          this.#sleepUntil(s, this.#sampleMs + this.#load.firmware.conversionMs);
        });
        break;
      case "read_sensor":
        this.#readSensor(nowS);
        break;
      case "seal_frame":
        this.#live(stints.seal_frame, (s) => {
          if (supplyMv < this.#load.firmware.lowMv) this.#brownOut(s);
          else this.#go("commit_frame");
        });
        break;
      case "commit_frame":
        this.#live(stints.commit_frame, (s) => this.#frameDone(s));
        break;
      case "commit_counters":
        this.#live(stints.commit_counters, (s) => {
          this.#storedFruitless = this.#fruitless;
          this.#sinceCounters = 0;
          if (this.#fruitless !== 0) this.#go("check_supply");
          else this.#rest(s);
        });
        break;
      case "commit_burst":
        this.#live(stints.commit_burst, (s) => {
          this.#bursting = false;
          this.#rest(s);
        });
    }
  }

  #checkSupply(nowS: number, supplyMv: number): void {
    const { firmware } = this.#load;
    const enough = this.#fruitless >= firmware.fruitlessLimit ? firmware.fullMv : firmware.startMv;
    // A period that is no whole number of milliseconds, which an analysis may ask for, must not wait for ever.
    if (this.#nowMs(nowS) < Math.floor(this.#dueMs)) this.#sleepUntil(nowS, this.#dueMs);
    else if (supplyMv < enough) {
      const falls = supplyMv < firmware.lowMv && this.#startCounted && !this.#brownOutTold;
      this.#live(this.#shortCheck, (s) => (falls ? this.#brownOut(s) : this.#giveUp(s)));
    } else if (this.#startCounted) this.#live(this.#shortCheck, () => this.#go("start_conversion"));
    else {
      this.#live(this.#stints.check_supply, () => {
        this.#startCounted = true;
        this.#fruitless = Math.min(SATURATED, this.#fruitless + 1);
        this.#go("commit_counters");
      });
    }
  }

  #readSensor(nowS: number): void {
    this.#live(this.#stints.read_sensor, (s) => {
      if (nowS < this.#readyS) {
        const latestMs = this.#sampleMs + 2 * this.#load.firmware.conversionMs;
        if (this.#nowMs(nowS) >= Math.floor(latestMs)) this.#giveUp(s);
        else this.#sleepUntil(s, latestMs);
      } else if (!this.#bursting) this.#go("seal_frame");
      else if (++this.#burstSamples === BURST_SAMPLES) this.#go("commit_burst");
      else this.#rest(s);
    });
  }

  #frameDone(nowS: number): void {
    const { firmware } = this.#load;
    this.frames++;
    this.#brownOutTold = false;
    this.#sinceCounters++;
    this.#sinceBurst++;
    if (firmware.burstEvery > 0 && this.#sinceBurst >= firmware.burstEvery) {
      this.#bursting = true;
      this.#sinceBurst = 0;
      this.#burstSamples = 0;
    }
    if (this.#fruitless !== 0) {
      this.#fruitless = 0;
      this.#sinceCounters = firmware.countersEvery;
    }
    if (this.#sinceCounters >= firmware.countersEvery) this.#go("commit_counters");
    else this.#rest(nowS);
  }

  #brownOut(nowS: number): void {
    this.brownOuts++;
    this.#brownOutTold = true;
    this.#sinceCounters = this.#load.firmware.countersEvery;
    this.#giveUp(nowS);
  }

  #giveUp(nowS: number): void {
    this.skipped++;
    this.#bursting = false;
    this.#rest(nowS);
  }

  #rest(nowS: number): void {
    const { firmware } = this.#load;
    this.#go("check_supply");
    this.#dueMs += this.#bursting ? firmware.burstIntervalMs : firmware.periodMs;
    this.#dueMs = Math.max(this.#dueMs, this.#nowMs(nowS));
    this.#sleepUntil(nowS, this.#dueMs);
  }

  #live(stints: readonly Stint[], then: (nowS: number) => void): void {
    this.#queue.push(...stints);
    this.#then = then;
  }

  /** Sleeps, for as long as a conversion lasts with the sensor's current. */
  #sleepUntil(nowS: number, ms: number): void {
    const { processor, sensor } = this.#load;
    const untilS = this.#startS + ms / 1000;
    const convertingS = Math.min(this.#readyS, untilS) - nowS;
    const converting = convertingS > 0 && this.#phase === "read_sensor";
    if (converting) {
      const currentA = processor.sleepA + sensor.conversionA;
      this.#queue.push({ activity: "conversion", seconds: convertingS, currentA });
    }
    const seconds = untilS - nowS - (converting ? convertingS : 0);
    if (seconds > 0) this.#queue.push({ activity: "sleep", seconds, currentA: processor.sleepA });
  }

  /** Milliseconds since the start; a time that falls on a full one counts as it, whatever its last digit. */
  #nowMs(nowS: number): number {
    return Math.floor((nowS - this.#startS) * 1000 + 1e-6);
  }
}
